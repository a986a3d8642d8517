import { OneButton } from '@/app/account/_forms/one-button';
import { Pennant } from '@/app/_ui/pennant';
import { dayOfDate, type Day } from '@/lib/domain/people/age';
import {
  CLEARANCE_KINDS,
  CLEARANCE_WORD,
  missingClearances,
  type ClearanceFacts,
} from '@/lib/domain/people/clearances';
import { endClearance } from '../actions';
import { ClearanceForm } from './clearance-form';

type Props = {
  person: { personId: string; name: string };
  clearances: readonly ClearanceFacts[];
  mayChange: boolean;
  today: Day;
  /** One for each kind, so that sending a form twice records one. */
  freshIds: readonly string[];
};

/** The background check and the training of somebody of the staff: until when each holds, and what is missing. */
export const Clearances = ({ person: { personId, name }, clearances, mayChange, today, freshIds }: Props) => {
  const missing = missingClearances(clearances, today);
  return (
    <div className="stack tight">
      {missing.length > 0 && (
        <Pennant>
          {missing.map((kind) => CLEARANCE_WORD[kind]).join(' and ')} missing or run out: the lessons of
          minors are closed to {name}
        </Pennant>
      )}
      <ul className="small">
        {CLEARANCE_KINDS.map((kind) => {
          const latest = clearances.find((one) => one.kind === kind && one.revokedAt === null);
          return (
            <li key={kind} className="acts">
              <span>
                {CLEARANCE_WORD[kind]}:{' '}
                {latest
                  ? `of ${dayOfDate(latest.issuedOn)}, holds until ${dayOfDate(latest.expiresOn)}`
                  : 'none recorded'}
              </span>
              {mayChange && latest && (
                <OneButton
                  action={endClearance}
                  fields={{ personId, kind }}
                  label="End it now"
                  spoken={`End it now: ${CLEARANCE_WORD[kind]} of ${name}`}
                  isSmall
                />
              )}
            </li>
          );
        })}
      </ul>
      {mayChange && (
        <details>
          <summary>
            Record a check<span className="sr"> of {name}</span>
          </summary>
          {CLEARANCE_KINDS.map((kind, index) => (
            <ClearanceForm
              key={freshIds[index]}
              id={freshIds[index] ?? ''}
              personId={personId}
              name={name}
              kind={kind}
              today={today}
            />
          ))}
        </details>
      )}
    </div>
  );
};
