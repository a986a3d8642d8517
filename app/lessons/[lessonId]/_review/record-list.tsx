'use client';

import { useEffect, useState } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Dialog } from '@/app/_ui/dialog';
import { EmptyState } from '@/app/_ui/empty-state';
import { Notice } from '@/app/_ui/notice';
import type { Answer } from '@/lib/domain/shared/result';
import type { BreakdownOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import {
  removeBreakdownAction,
  reopenBreakdownAction,
  retryBreakdownAction,
} from '@/app/lessons/breakdown-actions';
import { factsOfBreakdownFault } from '@/lib/domain/breakdowns/breakdown-faults';
import { clockOfMs } from '@/lib/domain/breakdowns/moment-link';
import type { RecordSession } from '@/lib/review/record/session';
import css from './record.module.css';
import type { LessonBreakdowns } from './use-breakdowns';

type Props = LessonBreakdowns & {
  lessonId: string;
  isOpen: boolean;
  /** Null while something is being recorded: another breakdown cannot be opened then. */
  session: RecordSession | null;
  onClose: () => void;
  onRecord: () => void;
};

const stateWords = (one: BreakdownOnPage): string => {
  const captions = { none: 'no captions', asked: 'captions asked for', draft: 'captions to read over' };
  switch (one.state) {
    case 'recording':
      return 'being recorded, not kept yet';
    case 'assembling':
      return 'being put together';
    case 'ready':
      return [
        'ready',
        one.hasVoice ? null : 'without a voice',
        one.captions.state === 'ready' ? 'captions' : captions[one.captions.state],
        one.givenAt ? 'given' : 'goes with the lesson',
      ]
        .filter(Boolean)
        .join(', ');
    case 'failed':
      return 'could not be put together';
    case 'removed':
      return 'removed';
    default:
      return one.state satisfies never;
  }
};

/** The breakdowns of this lesson: how each stands, and what can be done about one that failed. */
export const RecordList = ({ lessonId, breakdowns, refresh, isOpen, session, onClose, onRecord }: Props) => {
  const [copies, setCopies] = useState<readonly string[]>([]);
  useEffect(() => {
    if (!isOpen || !session) return;
    let isHere = true;
    void session.copies().then((found) => isHere && setCopies(found));
    return () => {
      isHere = false;
    };
  }, [isOpen, session, breakdowns]);
  const goOn = async (breakdownId: string) => {
    const got = await answerOf(reopenBreakdownAction({ breakdownId }));
    if (!got.ok) return setRefusal(got.message);
    await session?.takeUp(breakdownId);
    refresh();
    onClose();
  };
  const [refusal, setRefusal] = useState<string | null>(null);
  const [asked, setAsked] = useState<string | null>(null);
  const work = async (asked: Promise<Answer<unknown>>) => {
    const got = await answerOf(asked);
    setRefusal(got.ok ? null : got.message);
    setAsked(null);
    refresh();
  };
  return (
    <Dialog
      isOpen={isOpen}
      onClose={onClose}
      title="Breakdowns of this lesson"
      footer={
        <button type="button" className="btn" onClick={onRecord}>
          Record
        </button>
      }
    >
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      {breakdowns?.length === 0 ? (
        <EmptyState title="None yet">
          Say it once: talk while you step through the swing, and it is replayed on the exact frames.
        </EmptyState>
      ) : null}
      <ul className={css.list}>
        {breakdowns?.map((one) => (
          <li key={one.id}>
            <b>{one.title || 'Breakdown'}</b>
            <span className="num">{one.durationMs === null ? '' : clockOfMs(one.durationMs)}</span>
            <span className="soft">
              {one.by.name}, {stateWords(one)}
            </span>
            {one.fault ? <p>{factsOfBreakdownFault(one.fault).forPeople}</p> : null}
            {one.state === 'failed' && one.fault && factsOfBreakdownFault(one.fault).retry !== 'never' ? (
              <button
                type="button"
                className="linklike"
                onClick={() => void work(retryBreakdownAction({ breakdownId: one.id }))}
              >
                Put it together again
              </button>
            ) : null}
            {one.state === 'ready' ? (
              <a href={`/lessons/${lessonId}/captions/${one.id}`}>Watch it and write captions</a>
            ) : null}
            {one.state === 'ready' && one.mayChange && !one.givenAt && session && copies.includes(one.id) ? (
              <button type="button" className="linklike" onClick={() => void goOn(one.id)}>
                Speak on, or cut it again
              </button>
            ) : null}
            {one.mayChange && one.state !== 'removed' ? (
              asked === one.id ? (
                <>
                  <button
                    type="button"
                    className="linklike"
                    onClick={() => void work(removeBreakdownAction({ breakdownId: one.id }))}
                  >
                    Yes, remove it with its files
                  </button>
                  <button type="button" className="linklike" onClick={() => setAsked(null)}>
                    No, leave it
                  </button>
                </>
              ) : (
                <button type="button" className="linklike" onClick={() => setAsked(one.id)}>
                  Remove
                </button>
              )
            ) : null}
          </li>
        ))}
      </ul>
    </Dialog>
  );
};
