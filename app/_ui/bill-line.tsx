import Link from 'next/link';
import type { ReactNode } from 'react';
import type { BalanceLine } from '@/lib/data/balances.read';
import { Moment } from './moment';
import { Money } from './money';
import { Pennant } from './pennant';
import css from './bill-line.module.css';

/** What a bill is for, in words: "Lesson 3 for Wren", "Five lessons". */
export const billWords = ({ lesson, pack }: Pick<BalanceLine, 'lesson' | 'pack'>): string =>
  lesson ? `Lesson ${lesson.number} for ${lesson.player.name}` : (pack?.label ?? 'Paid too much');

type Props = {
  line: BalanceLine;
  now: Date;
  timeZone: string;
  /** Names who pays, for the lead. */
  withPayer?: boolean;
  /** What can be done about it. */
  children?: ReactNode;
};

/** One bill that is still owed: what for, how much, since when, and whether its day has passed. */
export const BillLine = ({ line, now, timeZone, withPayer = false, children }: Props) => {
  const isLate = line.dueAt !== null && line.dueAt < now;
  return (
    <li className={css.bill}>
      <div>
        <p>
          {line.lesson ? <Link href={`/lessons/${line.lesson.id}`}>{billWords(line)}</Link> : billWords(line)}
          {withPayer ? <span className="soft">, billed to {line.payer.name}</span> : null}
        </p>
        <p className="small soft">
          Charged <Moment at={line.since} now={now} timeZone={timeZone} as="day" />
          {line.dueAt ? (
            <>
              , due <Moment at={line.dueAt} now={now} timeZone={timeZone} as="day" />
            </>
          ) : null}
          {line.receivedMinor > 0 ? (
            <>
              , <Money minor={line.receivedMinor} currency={line.currency} /> of{' '}
              <Money minor={line.chargedMinor} currency={line.currency} /> paid
            </>
          ) : null}
        </p>
        {isLate ? <Pennant>Overdue</Pennant> : null}
      </div>
      <p className="slab">
        <Money minor={line.owedMinor} currency={line.currency} />
      </p>
      {children ? <div className={css.does}>{children}</div> : null}
    </li>
  );
};
