import type { Role } from '../people/viewer';

/** What of a person decides the words: their roles, and what hangs on them. */
export interface ErasureSubject {
  name: string;
  isSelf: boolean;
  roles: readonly Role[];
  otherPrograms: number;
  /** Children of whom nobody else is a verified guardian. */
  soleWards: readonly string[];
}

const listWords = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

/** What erasing a person means, word for word, before somebody asks for it: what goes, what stays, what then ends. */
export function erasureWords(subject: ErasureSubject, programName: string): string {
  const { name, isSelf, roles, otherPrograms, soleWards } = subject;
  const isStaff = roles.includes('coach') || roles.includes('lead');
  const goes = [
    roles.includes('player') &&
      `${isSelf ? 'Your' : `${name}’s`} clips, lessons, marks, replies, breakdowns and practice are deleted for good.`,
    roles.includes('guardian') && 'What you wrote on lessons is deleted.',
    isStaff &&
      'What you returned to players stays theirs to read, by “a former coach”. Your remarks are deleted, and lessons you have not returned go back to the desk.',
    otherPrograms > 0
      ? `${isSelf ? 'Your' : 'Their'} place in ${programName} ends. Other programs keep what they have, and the name and the login with them.`
      : 'Name, birth date and address are deleted, and nobody can sign in with them any more.',
  ];
  const stays = [
    'Invoices, receipts and the ledger keep their amounts under a stand-in. What is still owed or to be given back stays so: settle it before.',
    'Records of safety (who saw what, consents, concerns, checks) stay under a stand-in until their time is over.',
    soleWards.length > 0 &&
      `${listWords(soleWards)} will have no guardian here; nobody of the program can then write to them. Ask the program to invite another guardian first.`,
  ];
  return [...goes, ...stays].filter((line) => line !== false).join(' ');
}
