'use client';

import { useEffect, useRef, useState } from 'react';
import { v4 as uuid } from 'uuid';
import { emptyDraft, type Draft } from '@/lib/domain/lessons/intake';
import type { ClipFacts } from '@/lib/domain/lessons/lesson';
import type { LessonId } from '@/lib/domain/shared/ids';
import { clipTools } from './clip-tools';
import { readHere, readStrayHere } from './here-store';
import { SendForm } from './send-form';
import { SendFrame } from './send-frame';
import type { SendSetting } from './send-types';
import type { Opened } from './use-draft';
import styles from './send.module.css';

type Props = {
  setting: SendSetting;
  /** The draft that the program has for this player, if there is one. */
  kept: { lessonId: LessonId; followsId: LessonId | null; draft: Draft } | null;
  /** What a new lesson follows unless the sender says otherwise; `asked` when the way here named it. */
  follows: { id: LessonId | null; isAsked: boolean };
  stored: ClipFacts[];
  now: Date;
};

const open = async ({ setting, kept, follows }: Props): Promise<Opened> => {
  const found = kept ? await readHere(kept.lessonId) : await readStrayHere(setting.player.id);
  const here = found?.here ?? {};
  // What this device could not hand over yet is newer than what the program has.
  if (found && !found.isKept) {
    const value = { draft: found.draft, followsId: found.followsId as LessonId | null, here };
    return { lessonId: found.lessonId as LessonId, value, told: kept?.followsId, isKept: false };
  }
  if (kept) {
    const value = { draft: kept.draft, followsId: follows.isAsked ? follows.id : kept.followsId, here };
    return {
      lessonId: kept.lessonId,
      value,
      told: kept.followsId,
      isKept: value.followsId === kept.followsId,
    };
  }
  const draft = { ...emptyDraft(), bats: setting.player.bats };
  return {
    lessonId: uuid() as LessonId,
    value: { draft, followsId: follows.id, here },
    told: undefined,
    isKept: true,
  };
};

/** Opens the form with the newest of what the program and this device have kept. */
export const SendGate = (props: Props) => {
  const [opened, setOpened] = useState<Opened | null>(null);
  // As the page was opened: what is being filled in must not be replaced by a later render around it.
  const first = useRef(props);
  useEffect(() => {
    let isStale = false;
    void open(first.current).then((found) => !isStale && setOpened(found));
    return () => {
      isStale = true;
    };
  }, []);
  if (opened)
    return (
      <SendForm
        setting={props.setting}
        opened={opened}
        stored={props.stored}
        now={props.now}
        tools={clipTools(props.setting.viewerId)}
      />
    );
  return (
    <SendFrame programName={props.setting.program.name} step="clip" going={null} lead={null}>
      <h1 className={styles.title}>Your swing, on film</h1>
      <p className="soft">Opening what you have so far …</p>
    </SendFrame>
  );
};
