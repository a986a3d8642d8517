/** Whom to call outside of the program. Stands before everything else. */
export const CallFirst = () => (
  <div className="stack tight read">
    <p>
      <strong>If somebody is in danger now, call the emergency number where you are.</strong>
    </p>
    <p>
      For suspected abuse of a child, call the police or the child protection service of your place. In many
      places adults who work with children must report it by law, themselves and soon. Writing here does not
      replace that, and nobody here may stop you from it.
    </p>
    <p className="small soft">
      The program must follow its own law and the rules of its governing body, which may have a line of its
      own to call.
    </p>
  </div>
);
