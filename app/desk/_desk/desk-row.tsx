import Link from 'next/link';
import { differenceInHours } from 'date-fns';
import { BillingWord } from '@/app/_ui/money';
import { Moment, momentWords, TimeAgo, Until } from '@/app/_ui/moment';
import { Pennant } from '@/app/_ui/pennant';
import { StatePath } from '@/app/_ui/state-path';
import { Still } from '@/app/_ui/still';
import type { DeskRow } from '@/lib/data/desk-select';
import { careReasons, shownAge } from '@/lib/domain/desk/care';
import { toWallClock } from '@/lib/domain/desk/wall-clock';
import { STATE_WORD } from '@/lib/domain/lessons/words';
import type { Day } from '@/lib/domain/people/age';
import { AssignMenu } from './assign-menu';
import type { CoachChoice } from './coach-words';
import { GIVE_OUT_FORM } from './give-out-form';
import { MoveMenu } from './move-menu';
import css from './desk.module.css';

type Props = {
  row: DeskRow;
  isFirst: boolean;
  viewerId: string;
  isLead: boolean;
  coaches: CoachChoice[];
  now: Date;
  today: Day;
  timeZone: string;
  poster: string | null;
};

const SOON_HOURS = 1;

/** One lesson on the desk. Its name is the link to open it; the button beside it says what opening does. */
export const DeskRowView = ({
  row,
  isFirst,
  viewerId,
  isLead,
  coaches,
  now,
  today,
  timeZone,
  poster,
}: Props) => {
  const age = shownAge(row.player.birthDate, today);
  const care = careReasons({ ...row, birthDate: row.player.birthDate }, today);
  const isWaiting = row.state === 'submitted' || row.state === 'in_review';
  const isMine = row.coach?.id === viewerId;
  const isSoon = row.promisedAt !== null && differenceInHours(row.promisedAt, now) < SOON_HOURS;
  const href = isWaiting ? `/lessons/${row.id}/bench` : `/lessons/${row.id}`;
  const who = row.coach ? (isMine ? 'you' : row.coach.name) : null;
  const canAssign = isWaiting && (isLead || !row.coach || isMine);
  return (
    <tr data-desk-row data-lesson={row.id} data-can-take={row.state === 'submitted' ? 'yes' : undefined}>
      <td className={css.when}>
        {isWaiting && row.promisedAt ? (
          <>
            <b>
              <Moment at={row.promisedAt} now={now} timeZone={timeZone} as={isSoon ? 'clock' : 'moment'} />
            </b>
            <span className={isSoon ? css.soon : 'small soft'}>
              <Until at={row.promisedAt} now={now} timeZone={timeZone} />
            </span>
          </>
        ) : row.returnedAt ? (
          <>
            <b>
              <Moment at={row.returnedAt} now={now} timeZone={timeZone} as="day" />
            </b>
            <span className="small soft">{row.isSeen ? 'seen' : 'not seen yet'}</span>
          </>
        ) : null}
      </td>
      <td className={css.pic}>
        <div className={css.picked}>
          {isLead && row.state === 'submitted' ? (
            <label className={css.tick}>
              <input type="checkbox" name="lesson" value={row.id} form={GIVE_OUT_FORM} />
              <span className="sr">Give out the lesson of {row.player.name}</span>
            </label>
          ) : null}
          <Still src={poster} alt={row.clipsReady < row.clipCount ? 'Clip on its way' : 'No picture'} />
        </div>
      </td>
      <td className={css.who}>
        <Link href={href} data-desk-open>
          {row.player.name}
        </Link>
        {age === null ? null : <span className="soft">, {age}</span>}
        <p>{row.question}</p>
        {row.note && (isMine || isLead) ? (
          <p className={css.note}>
            {row.note.by.name} to {isMine ? 'you' : row.coach?.name}: <q>{row.note.words}</q>
          </p>
        ) : null}
        {isWaiting && row.submittedAt ? (
          <p className="small soft">
            sent <TimeAgo at={row.submittedAt} now={now} timeZone={timeZone} />
            {row.clipsReady < row.clipCount ? `, ${row.clipsReady} of ${row.clipCount} clips ready` : ''}
          </p>
        ) : null}
      </td>
      <td>
        {row.follows ? (
          <>
            <p>Lesson {row.follows.number}</p>
            <p className="small soft">{row.follows.fixFirst}</p>
          </>
        ) : (
          <p>First lesson</p>
        )}
      </td>
      <td>
        <StatePath state={row.state} word={who ? `${STATE_WORD[row.state]}, ${who}` : undefined} />
      </td>
      <td className={care.length === 0 ? css.none : undefined}>
        {care.map((reason) => (
          <Pennant key={reason}>{reason}</Pennant>
        ))}
      </td>
      <td>
        <BillingWord status={row.account.status} dueMinor={row.account.owedMinor} currency={row.currency} />
      </td>
      <td className={css.do}>
        <Link
          className={isFirst && isWaiting ? 'btn do small' : 'btn small'}
          href={href}
          aria-label={`${doWord(row, isMine)} the lesson of ${row.player.name}`}
        >
          {doWord(row, isMine)}
        </Link>
        {isWaiting && row.promisedAt && (isLead || isMine) ? (
          <MoveMenu
            lessonId={row.id}
            playerName={row.player.name}
            local={toWallClock(row.promisedAt, timeZone)}
            words={momentWords(row.promisedAt, now, timeZone)}
          />
        ) : null}
        {canAssign ? (
          <AssignMenu
            lessonId={row.id}
            playerName={row.player.name}
            isMinor={age !== null || row.player.birthDate === null}
            coachId={row.coach?.id ?? null}
            coaches={coaches}
            viewerId={viewerId}
          />
        ) : null}
      </td>
    </tr>
  );
};

const doWord = (row: DeskRow, isMine: boolean) => {
  if (row.state === 'in_review') return isMine ? 'Go on' : 'Look';
  return row.state === 'submitted' ? 'Open' : 'Read';
};
