import { OneButton } from '@/app/account/_forms/one-button';
import { dayWords } from '@/app/_ui/moment';
import { standingOf, type ConsentRecord, type Scope } from '@/lib/domain/consents/consent';
import type { Day } from '@/lib/domain/people/age';
import { setConsent } from '../actions';

type Props = {
  scope: Scope;
  title: string;
  text: string;
  playerId: string;
  /** Of the viewer, or null; and whether somebody else took theirs back, which counts for all. */
  mine: ConsentRecord | null;
  isStoppedByOther: boolean;
  /** False for who only reads: a lead, or a minor. */
  mayChange: boolean;
  today: Day;
  now: Date;
  timeZone: string;
};

/** One consent in whole words, how it stands, and the button that gives it or takes it back. */
export const ConsentItem = ({
  scope,
  title,
  text,
  playerId,
  mine,
  isStoppedByOther,
  mayChange,
  today,
  now,
  timeZone,
}: Props) => {
  const standing = standingOf(mine, today);
  const words = {
    none: scope === 'lessons' ? 'Not given by you.' : 'Off.',
    given: mine?.expiresAt ? `Given by you. Holds until ${dayWords(mine.expiresAt, now, timeZone)}.` : '',
    lapsed: mine?.expiresAt ? `Ran out ${dayWords(mine.expiresAt, now, timeZone)}.` : '',
    withdrawn: mine?.withdrawnAt ? `Off: you said no ${dayWords(mine.withdrawnAt, now, timeZone)}.` : '',
  } as const;
  const button = (isGiven: boolean, label: string) => (
    <OneButton
      action={setConsent}
      fields={{ playerId, scope, isGiven: isGiven ? 'yes' : 'no' }}
      label={label}
      spoken={`${label}: ${title}`}
      isSmall
    />
  );
  return (
    <li className="stack tight">
      <h3>{title}</h3>
      <p className="read">{text}</p>
      {mayChange && <p className="small soft">{words[standing]}</p>}
      {isStoppedByOther && (
        <p className="small">Another guardian has said no, and that counts for all of you.</p>
      )}
      {mayChange && (
        <div className="acts">
          {standing === 'given' && button(true, 'Renew for a year')}
          {standing === 'given'
            ? button(false, 'Take it back')
            : button(true, scope === 'lessons' ? 'I agree, for a year' : 'Turn on for a year')}
          {standing !== 'given' &&
            standing !== 'withdrawn' &&
            button(false, scope === 'lessons' ? 'I do not agree' : 'Keep it off')}
        </div>
      )}
    </li>
  );
};
