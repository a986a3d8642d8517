'use client';

import { useRouter } from 'next/navigation';
import { useEffect, useRef, useState } from 'react';
import { v4 as uuid } from 'uuid';
import type { ClipFacts } from '@/lib/domain/lessons/lesson';
import { clipTools } from './clip-tools';
import { readHere, readLatestHere } from './here-store';
import { openDraft, type Sources } from './open-draft';
import { SendForm } from './send-form';
import { SendFrame } from './send-frame';
import type { SendSetting } from './send-types';
import type { Opened } from './use-draft';
import styles from './send.module.css';

type Props = Pick<Sources, 'kept' | 'follows'> & {
  setting: SendSetting;
  stored: ClipFacts[];
  /** When the page was made. */
  now: Date;
};

/** Opens the form with the newest of what the program and this device have kept, and then leaves it alone. */
export const SendGate = ({ setting, kept, follows, stored, now }: Props) => {
  const router = useRouter();
  const [opened, setOpened] = useState<Opened | null>(null);
  const refreshedFor = useRef<Date | null>(null);

  useEffect(() => {
    if (opened) return; // what is being filled in must not be replaced by a later render around it
    let isStale = false;
    const open = async () => {
      const found = kept ? await readHere(kept.lessonId) : await readLatestHere(setting.player.id);
      if (isStale) return;
      const isFresh = refreshedFor.current !== null && refreshedFor.current !== now;
      const result = openDraft({ setting, kept, found, follows, isFresh }, uuid);
      if (result !== 'stale') return setOpened(result);
      refreshedFor.current ??= now;
      router.refresh();
    };
    void open();
    return () => {
      isStale = true;
    };
  }, [opened, kept, setting, follows, now, router]);

  if (opened) {
    return (
      <SendForm
        setting={setting}
        opened={opened}
        stored={stored}
        now={now}
        tools={clipTools(setting.viewerId)}
      />
    );
  }
  return (
    <SendFrame programName={setting.program.name} step="clip" going={null} lead={null}>
      <h1 className={styles.title}>Your swing, on film</h1>
      <p className="soft">Opening what you have so far …</p>
    </SendFrame>
  );
};
