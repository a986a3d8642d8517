'use client';

import Link from 'next/link';
import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Dialog } from '@/app/_ui/dialog';
import { dayWords, momentWords } from '@/app/_ui/moment';
import { Notice } from '@/app/_ui/notice';
import { returnLessonAction } from '@/app/lessons/actions';
import { missingForReturn } from '@/lib/domain/review/missing';
import type { Sheet } from '@/lib/domain/review/sheet';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import type { BenchProps } from './bench-state';
import { CaptionsReminder } from './captions-reminder';

type Props = BenchProps & {
  isOpen: boolean;
  onClose: () => void;
  saver: SheetSaver | null;
  sheet: Sheet;
  onItem: (itemId: string) => void;
  onPreview: () => void;
};

/** What is missing, who will be told and when, and the return itself. */
export const ReturnDialog = (props: Props) => {
  const { lesson, isOpen, onClose, saver, sheet, closed, told, nextId, now, timeZone } = props;
  const [refusal, setRefusal] = useState<string | null>(null);
  const [done, setDone] = useState<readonly { name: string; at: Date }[] | null>(null);
  const [withoutCaptions, setWithoutCaptions] = useState(0);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  const missing = missingForReturn(sheet, lesson.checklist);
  const blocks = missing.filter((one) => one.blocks);
  const reminders = missing.filter((one) => !one.blocks);
  const whenWords = (at: Date) =>
    at.getTime() <= now.getTime() + 60_000 ? 'now' : `${momentWords(at, now, timeZone)}`;

  const giveBack = () =>
    start(async () => {
      if (!saver || !(await saver.flush())) {
        return setRefusal('Not everything is kept yet. Wait until the bar says “All kept”, then return it.');
      }
      // The revision that the server has just confirmed: what is returned is exactly what stands there.
      const kept = await fetch(`/api/lessons/${lesson.id}/sheet`)
        .then((r) => (r.ok ? (r.json() as Promise<{ revision: number }>) : null))
        .catch(() => null);
      if (!kept) return setRefusal('The connection is lost. Everything is kept; try again in a moment.');
      const answer = await answerOf(
        returnLessonAction({
          lessonId: lesson.id,
          revision: kept.revision,
          // The reminder stands in this very dialog.
          withoutCaptions: withoutCaptions > 0,
        }),
      );
      if (!answer.ok) return setRefusal(answer.message);
      setRefusal(null);
      setDone(answer.value.told);
    });

  if (done) {
    return (
      <Dialog
        isOpen={isOpen}
        onClose={() => router.push('/desk')}
        title="Returned"
        footer={
          <>
            {nextId ? (
              <Link className="btn do" href={`/lessons/${nextId}/bench`}>
                Next lesson
              </Link>
            ) : null}
            <Link className="btn" href="/desk">
              To the desk
            </Link>
          </>
        }
      >
        <p>
          {done.length === 0
            ? 'Nobody has an address to be told at; it stands on their page.'
            : done.map((one) => `${one.name} ${whenWords(new Date(one.at))}`).join(', ') + '.'}
        </p>
      </Dialog>
    );
  }
  return (
    <Dialog
      isOpen={isOpen}
      onClose={onClose}
      title={`Return lesson ${lesson.number}?`}
      footer={
        <>
          <button
            type="button"
            className="btn do"
            disabled={isBusy || blocks.length > 0 || closed !== null}
            onClick={giveBack}
          >
            {isBusy ? 'Returning it' : 'Return it'}
          </button>
          <button type="button" className="btn" onClick={props.onPreview}>
            See it as {lesson.player.name} will
          </button>
        </>
      }
    >
      {closed ? <Notice kind="refused">{closed}</Notice> : null}
      {blocks.length > 0 ? (
        <Notice kind="refused" title="Before it can go back">
          <ul>
            {blocks.map((one) => (
              <li key={one.kind}>{one.sentence}</li>
            ))}
          </ul>
        </Notice>
      ) : null}
      {reminders.map((one) => (
        <div key={one.kind}>
          <p>{one.sentence}</p>
          {one.kind === 'to-judge' ? (
            <ul>
              {one.itemIds.map((id) => (
                <li key={id}>
                  <button type="button" className="linklike" onClick={() => props.onItem(id)}>
                    {lesson.checklist.find((item) => item.id === id)?.title ?? id}
                  </button>
                </li>
              ))}
            </ul>
          ) : null}
        </div>
      ))}
      <CaptionsReminder lessonId={lesson.id} onKnown={setWithoutCaptions} />
      {closed === null ? (
        <p>
          {told.length === 0
            ? 'Nobody has an address to be told at; it will stand on their page.'
            : `Told: ${told.map((one) => `${one.name} ${whenWords(one.at)}`).join(', ')}.`}
          {lesson.promisedAt ? ` Promised ${dayWords(lesson.promisedAt, now, timeZone)}.` : ''}
        </p>
      ) : null}
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
    </Dialog>
  );
};
