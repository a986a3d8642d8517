/** The form to which the check boxes of the desk's rows belong. */
export const GIVE_OUT_FORM = 'give-out';
