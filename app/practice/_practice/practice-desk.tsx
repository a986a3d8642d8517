'use client';

import Link from 'next/link';
import { useState } from 'react';
import { Notice } from '@/app/_ui/notice';
import type { Given } from '@/lib/domain/drills/given';
import { isPainful, PAIN_WORDS } from '@/lib/domain/drills/practice';
import type { Day } from '@/lib/domain/people/age';
import { CheckInForm } from './check-in-form';
import { GivenDrill } from './given-drill';
import css from './practice.module.css';
import { PracticeRun } from './practice-run';
import { useCheckIns } from './use-check-ins';

type Props = { viewerId: string; given: readonly Given[]; today: Day; isSafe: boolean };

/** Today's drills with their counter, and the check-in of each. */
export const PracticeDesk = ({ viewerId, given, today, isSafe }: Props) => {
  const { waiting, add, drop, sendAgain } = useCheckIns(viewerId);
  const hurts = waiting.some((one) => isPainful(one.said));
  const refused = waiting.filter((one) => one.refusal !== null);
  const left = waiting.length - refused.length;
  return (
    <div className={css.drills}>
      {hurts ? (
        <Notice kind="refused" title="Stop for now">
          <p>{PAIN_WORDS}</p>
        </Notice>
      ) : null}
      {left > 0 ? (
        <Notice kind="info" title="Kept on this phone">
          <p>
            {left === 1 ? 'One check-in is' : `${left} check-ins are`} sent as soon as the network is back.
            Your coach does not know of {left === 1 ? 'it' : 'them'} yet.
          </p>
          <p className="acts">
            <button type="button" className="btn small" onClick={sendAgain}>
              Send now
            </button>
          </p>
        </Notice>
      ) : null}
      {refused.map((one) => (
        <Notice key={one.id} kind="refused" title="A check-in was not taken">
          <p>{one.refusal}</p>
          <p className="acts">
            <button type="button" className="btn small" onClick={() => void drop(one.id)}>
              Drop it
            </button>
          </p>
        </Notice>
      ))}
      {given.map((one) => (
        <DrillOfToday
          key={one.id}
          given={one}
          today={today}
          isOpen={isSafe && !hurts && one.pausedAt === null}
          hurts={hurts}
          onSend={(id, said) => add({ id, assignmentId: one.id, said })}
        />
      ))}
    </div>
  );
};

type DrillProps = {
  given: Given;
  today: Day;
  isOpen: boolean;
  /** A report of pain waits on this phone. */
  hurts: boolean;
  onSend: (id: string, said: Parameters<Parameters<typeof CheckInForm>[0]['onSend']>[0]) => Promise<void>;
};

const DrillOfToday = ({ given, today, isOpen, hurts, onSend }: DrillProps) => {
  const [swings, setSwings] = useState(0);
  const [turn, setTurn] = useState<'run' | 'form' | 'sent'>('run');
  return (
    <GivenDrill given={given} today={today}>
      {given.swingBy && !given.hasSwing && given.pausedAt === null ? (
        <p className="acts">
          <Link
            className="btn"
            href={`/lessons/new?player=${given.player.id}&follows=${given.lesson.id}&answers=${String(given.id)}`}
          >
            Send the swing that is asked for
          </Link>
        </p>
      ) : null}
      {turn === 'sent' && (hurts || given.pausedAt !== null) ? (
        <Notice kind="refused" title="Stop for now">
          <p>{PAIN_WORDS}</p>
        </Notice>
      ) : null}
      {turn === 'sent' && !hurts && given.pausedAt === null ? (
        <Notice kind="done">
          <p>Your check-in is kept.</p>
        </Notice>
      ) : null}
      {isOpen && turn !== 'form' ? (
        <>
          <PracticeRun dose={given.dose} swings={swings} onSwings={setSwings} />
          <p className="acts">
            <button type="button" className="btn do" onClick={() => setTurn('form')}>
              Check in
            </button>
          </p>
        </>
      ) : null}
      {isOpen && turn === 'form' ? (
        <CheckInForm
          id={String(given.id)}
          today={today}
          done={{ sets: Math.floor(swings / given.dose.reps), swings }}
          onSend={async (said) => {
            await onSend(crypto.randomUUID(), said);
            setSwings(0);
            setTurn('sent');
          }}
        />
      ) : null}
    </GivenDrill>
  );
};
