'use client';

import Link from 'next/link';
import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Dialog } from '@/app/_ui/dialog';
import { TextField } from '@/app/_ui/field';
import { momentWords } from '@/app/_ui/moment';
import { Notice } from '@/app/_ui/notice';
import {
  giveBreakdownAction,
  makeCaptionsAction,
  removeBreakdownAction,
  renameBreakdownAction,
  retryBreakdownAction,
} from '@/app/lessons/breakdown-actions';
import type { BreakdownOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import { factsOfBreakdownFault } from '@/lib/domain/breakdowns/breakdown-faults';
import { clockOfMs } from '@/lib/domain/breakdowns/moment-link';
import type { Answer } from '@/lib/domain/shared/result';

type Props = {
  breakdown: BreakdownOnPage;
  canGive: boolean;
  now: Date;
  timeZone: string;
};

const TITLE = {
  rename: 'Rename the breakdown',
  remove: 'Remove the breakdown?',
  give: 'Give it without captions?',
} as const;
const ACT = { rename: 'Keep the name', remove: 'Remove it', give: 'Give it without' } as const;

/** What the coach sees of a breakdown and may do with it: who watched it, and giving, naming, removing it. */
export const BreakdownDesk = ({ breakdown, canGive, now, timeZone }: Props) => {
  const router = useRouter();
  const [asks, setAsks] = useState<'rename' | 'remove' | 'give' | null>(null);
  const [name, setName] = useState(breakdown.title);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [done, setDone] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const run = <T,>(work: () => Promise<Answer<T>>, words: (value: T) => string | null) =>
    start(async () => {
      const answer = await answerOf(
        work(),
        'The connection is lost. Nothing was changed; try again in a moment.',
      );
      if (!answer.ok) return setRefusal(answer.message);
      setAsks(null);
      setRefusal(null);
      setDone(words(answer.value));
      router.refresh();
    });
  const { id: breakdownId, fault, state, captions } = breakdown;
  const hasNoCaptions = breakdown.hasVoice && captions.vtt === '';
  const give = () =>
    run(
      () => giveBreakdownAction({ breakdownId, withoutCaptions: hasNoCaptions }),
      ({ told }) =>
        told.length === 0
          ? 'Given. It stands on their page.'
          : `Given. Told: ${told.map((one) => one.name).join(', ')}.`,
    );
  const facts = fault ? factsOfBreakdownFault(fault) : null;
  const act = {
    give,
    remove: () =>
      run(
        () => removeBreakdownAction({ breakdownId }),
        () => null,
      ),
    rename: () =>
      run(
        () => renameBreakdownAction({ breakdownId, title: name.trim() }),
        () => null,
      ),
  };
  return (
    <div className="stack tight">
      {state === 'recording' ? (
        <p className="soft">Not kept yet: it stands half recorded on the bench of the device it began on.</p>
      ) : null}
      {state === 'assembling' ? <p role="status">It is being put together.</p> : null}
      {facts ? (
        <Notice kind={state === 'failed' ? 'refused' : 'info'}>
          <p>{facts.forPeople}</p>
          {state === 'failed' && facts.retry !== 'never' && breakdown.mayChange ? (
            <p className="acts">
              <button
                type="button"
                className="btn small"
                disabled={isBusy}
                onClick={() =>
                  run(
                    () => retryBreakdownAction({ breakdownId }),
                    () => null,
                  )
                }
              >
                Try once more
              </button>
            </p>
          ) : null}
        </Notice>
      ) : null}
      <p className="small">{watchedWords(breakdown, now, timeZone)}</p>
      {breakdown.captionAsks.length > 0 && captions.vtt === '' ? (
        <p className="small">
          <b>Captions are needed:</b> {breakdown.captionAsks.map((one) => one.name).join(', ')} asked for
          them.
        </p>
      ) : null}
      {captions.state === 'asked' ? (
        <p className="small soft">The speech service is writing captions.</p>
      ) : null}
      {captions.fault ? <p className="small">{captions.fault}</p> : null}
      <p className="acts">
        {canGive && state === 'ready' && breakdown.givenAt === null && breakdown.mayChange ? (
          <button
            type="button"
            className="btn small"
            disabled={isBusy}
            onClick={() => (hasNoCaptions ? setAsks('give') : give())}
          >
            Give it to the player
          </button>
        ) : null}
        {breakdown.canMakeCaptions && captions.vtt === '' && captions.state !== 'asked' ? (
          <button
            type="button"
            className="btn small"
            disabled={isBusy}
            onClick={() =>
              run(
                () => makeCaptionsAction({ breakdownId }),
                () => null,
              )
            }
          >
            Let the speech service write captions
          </button>
        ) : null}
        {breakdown.mayChange ? (
          <>
            <button type="button" className="btn quiet small" onClick={() => setAsks('rename')}>
              Rename
            </button>
            <button type="button" className="btn quiet small" onClick={() => setAsks('remove')}>
              Remove
            </button>
          </>
        ) : null}
      </p>
      {done ? <Notice kind="done">{done}</Notice> : null}
      {refusal && asks === null ? <Notice kind="refused">{refusal}</Notice> : null}
      <Dialog
        isOpen={asks !== null}
        onClose={() => setAsks(null)}
        title={asks ? TITLE[asks] : ''}
        footer={
          <button
            type="button"
            className="btn do"
            disabled={isBusy}
            onClick={() => (asks ? act[asks]() : null)}
          >
            {asks ? ACT[asks] : ''}
          </button>
        }
      >
        {asks === 'remove' ? (
          <p>
            Its voice, its captions and what you did while you spoke go for good, for the player too. What
            stays: your marks, verdicts and notes on the sheet, the replies, and a line that there was a
            breakdown.
          </p>
        ) : null}
        {asks === 'give' ? (
          <p>
            It has no captions, so somebody who cannot hear it misses what you say. You can{' '}
            <Link href={`/lessons/${breakdown.lessonId}/captions/${breakdownId}`}>write them first</Link>, or
            give it now and write them later.
          </p>
        ) : null}
        {asks === 'rename' ? (
          <TextField
            label="Name"
            hint="Empty: it goes by its place on the page."
            value={name}
            maxLength={80}
            onChange={(event) => setName(event.target.value)}
          />
        ) : null}
        {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      </Dialog>
    </div>
  );
};

const watchedWords = ({ watchers, givenAt, state }: BreakdownOnPage, now: Date, timeZone: string): string => {
  if (givenAt === null) return state === 'ready' ? 'The player does not see it yet.' : '';
  if (watchers.length === 0) return 'Nobody has watched it yet.';
  return watchers
    .map(({ name, furthestMs, isDone, at }) =>
      isDone
        ? `${name} watched it to the end, ${momentWords(at, now, timeZone)}.`
        : `${name} watched to ${clockOfMs(furthestMs)}, ${momentWords(at, now, timeZone)}.`,
    )
    .join(' ');
};
