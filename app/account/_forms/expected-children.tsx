import type { ExpectedChild } from '@/lib/data/invitations.read';
import { CONSENT_TEXT } from '@/lib/domain/people/safeguarding';
import { addMyChild, declineMyChild } from '../actions';
import { ChildForm } from './child-form';
import { OneButton } from './one-button';

type Props = { expected: readonly ExpectedChild[]; freshIds: readonly string[] };

/** Children whom the program named when it invited this guardian: added with a consent, or told to be none of theirs. */
export const ExpectedChildren = ({ expected, freshIds }: Props) =>
  expected.length === 0 ? null : (
    <div className="stack">
      <p>Your program waits for you to add:</p>
      <ul className="ruled">
        {expected.map(({ invitationId, name, birthDate }, index) => (
          <li key={invitationId} className="stack tight">
            <h3>{name}</h3>
            <ChildForm
              freshId={freshIds[index] ?? invitationId}
              consentText={CONSENT_TEXT}
              expected={{ invitationId, name, birthDate }}
              add={addMyChild}
            />
            <OneButton
              action={declineMyChild}
              fields={{ invitationId }}
              label="Not my child, or here already"
              spoken={`${name} is not my child, or is here already`}
              isSmall
            />
          </li>
        ))}
      </ul>
    </div>
  );
