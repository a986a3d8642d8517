'use client';

import Link from 'next/link';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { searchTranscriptsAction } from '@/app/lessons/breakdown-actions';
import type { TranscriptHit } from '@/lib/domain/breakdowns/breakdown';
import { clockOfMs, fragmentOfMoment } from '@/lib/domain/breakdowns/moment-link';
import type { ThreadId } from '@/lib/domain/shared/ids';

type Found = { words: string; hits: readonly TranscriptHit[]; next: string | null };

/** Looks through everything that was said in the breakdowns of a thread; each find leads to its moment. */
export const TranscriptSearch = ({ threadId }: { threadId: ThreadId }) => {
  const [words, setWords] = useState('');
  const [found, setFound] = useState<Found | null>(null);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const look = (before: Found | null) =>
    start(async () => {
      const asked = before?.words ?? words;
      const answer = await answerOf(
        searchTranscriptsAction({ threadId, words: asked, after: before?.next ?? null }),
        'The connection is lost. Try again in a moment.',
      );
      if (!answer.ok) return setRefusal(answer.message);
      setRefusal(null);
      const { hits, next } = answer.value;
      setFound({ words: asked, hits: [...(before?.hits ?? []), ...hits], next });
    });
  return (
    <>
      <form
        role="search"
        aria-label="What was said"
        onSubmit={(event) => {
          event.preventDefault();
          if (words.trim() !== '') look(null);
        }}
      >
        <TextField
          label="Words that were said in a breakdown"
          hint="Breakdowns that have captions are looked through."
          type="search"
          value={words}
          maxLength={200}
          onChange={(event) => setWords(event.target.value)}
        />
        <p className="acts">
          <button type="submit" className="btn" disabled={isBusy || words.trim() === ''}>
            {isBusy ? 'Looking' : 'Look for it'}
          </button>
        </p>
      </form>
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      {found ? (
        <div role="status">
          <p className="small soft">
            {found.hits.length === 0
              ? found.next === null
                ? `“${found.words}” was not said in any captions.`
                : `“${found.words}” was not said in the newest breakdowns.`
              : `“${found.words}”, ${found.hits.length === 1 ? 'once' : `${found.hits.length} times`}${found.next === null ? '' : ' so far'}`}
          </p>
          <ul>
            {found.hits.map((hit) => (
              <li key={`${hit.breakdownId}-${hit.startMs}`}>
                <Link href={`/lessons/${hit.lessonId}?b=${hit.breakdownId}#${fragmentOfMoment(hit.startMs)}`}>
                  Lesson {hit.lessonNumber}
                  {hit.title ? `, ${hit.title}` : ''}, at {clockOfMs(hit.startMs)}
                </Link>
                <p>{hit.text}</p>
              </li>
            ))}
          </ul>
        </div>
      ) : null}
      {found?.next ? (
        <p className="acts">
          <button type="button" className="btn" disabled={isBusy} onClick={() => look(found)}>
            Look in earlier breakdowns
          </button>
        </p>
      ) : null}
    </>
  );
};
