import type { PersonId } from '../shared/ids';
import { ageOn, isDay, type Day } from './age';
import { emailSchema, INVITED_ROLES, nameSchema, type InvitedRole } from './invitation';
import type { WrittenRow } from './invitation-table';
import { ADULT_AGE, LOGIN_AGE } from './safeguarding';
import type { Role } from './viewer';

/** What an invitation out of a table says, in the program's own terms. */
export interface RowInvitation {
  role: InvitedRole;
  name: string;
  email: string;
  /** For a guardian: the player of the program whom they stand beside. */
  playerId: PersonId | null;
  /** For a guardian of somebody who is not here yet: the child that they will add. */
  childName: string | null;
  /** The child's birth date; of a player's invitation the player's own. */
  childBirthDate: Day | null;
  /** For a minor: the guardian who is invited once the minor has accepted. */
  guardianName: string | null;
  guardianEmail: string | null;
}

/** Where a row stands: it will be invited, is here, was invited and has not answered, or cannot be. `invited`: it just was. */
export type RowOutcome = 'invite' | 'here' | 'open' | 'cannot' | 'invited';

export interface JudgedRow {
  written: WrittenRow;
  outcome: RowOutcome;
  /** What happens or why not, for people. */
  words: string;
  /** Only for `invite`. */
  invitation: RowInvitation | null;
}

/** What the program knows of the addresses and children of a table. */
export interface TableStanding {
  members: readonly { email: string; roles: readonly Role[]; wards: readonly PersonId[] }[];
  open: readonly { email: string; role: Role; playerId: PersonId | null; childName: string | null }[];
  /** Players whose names are those of children in the table. */
  players: readonly { personId: PersonId; name: string; birthDate: Day | null }[];
}

const twoDigits = (text: string) => text.padStart(2, '0');

/**
 * A birth date as people write it: 2012-04-30, 30.4.2012, and 4/30/2012 or 30/4/2012 where only one reading is a day.
 * Null for anything else; `unclear` where both readings are days.
 */
export const readDay = (text: string): Day | 'unclear' | null => {
  if (isDay(text)) return text as Day;
  const parts = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4})$/.exec(text);
  if (!parts) return null;
  const [, first = '', sign, second = '', year = ''] = parts;
  const dayOf = (month: string, day: string) => {
    const written = `${year}-${twoDigits(month)}-${twoDigits(day)}`;
    return isDay(written) ? (written as Day) : null;
  };
  const dayFirst = dayOf(second, first);
  if (sign === '.') return dayFirst;
  const monthFirst = dayOf(first, second);
  if (dayFirst && monthFirst && dayFirst !== monthFirst) return 'unclear';
  return dayFirst ?? monthFirst;
};

const ROLE_OF: Record<string, InvitedRole> = {
  ...Object.fromEntries(INVITED_ROLES.map((role) => [role, role])),
  parent: 'guardian',
};
const same = (a: string | null, b: string | null) => (a ?? '').toLowerCase() === (b ?? '').toLowerCase();

class Cannot {
  constructor(readonly words: string) {}
}

const nameIn = (text: string, what: string): string => {
  const parsed = nameSchema.safeParse(text);
  if (parsed.success) return parsed.data;
  throw new Cannot(text === '' ? `Write ${what}.` : `Keep ${what} under 80 letters.`);
};
const emailIn = (text: string, whose: string): string => {
  const parsed = emailSchema.safeParse(text);
  if (parsed.success) return parsed.data;
  throw new Cannot(
    text === '' ? `Write ${whose} e-mail address.` : `“${text}” does not look like an e-mail address.`,
  );
};
const dayIn = (text: string, today: Day): Day => {
  const day = readDay(text);
  if (day === 'unclear') {
    throw new Cannot(`“${text}” can be read as two different days. Write the year first, like 2012-04-30.`);
  }
  if (!day) throw new Cannot(`“${text}” is not a day. Write the year first, like 2012-04-30.`);
  if (day > today || day < '1900-01-01') throw new Cannot(`The birth date ${day} cannot be right.`);
  return day;
};

const NONE = {
  playerId: null,
  childName: null,
  childBirthDate: null,
  guardianName: null,
  guardianEmail: null,
};

const playerOf = (row: WrittenRow, today: Day): RowInvitation => {
  const [name, email] = [nameIn(row.name, 'the player’s name'), emailIn(row.email, 'the player’s')];
  if (row.birthDate === '') {
    throw new Cannot('Write the birth date, so that it is clear whether a guardian is needed.');
  }
  const birthDate = dayIn(row.birthDate, today);
  const age = ageOn(birthDate, today);
  if (age < LOGIN_AGE) {
    throw new Cannot(
      `${name} is under ${LOGIN_AGE} and cannot have a login. Write the parent or guardian with the role guardian, ` +
        'and the player as the child.',
    );
  }
  const player = { ...NONE, role: 'player' as const, name, email, childBirthDate: birthDate };
  if (age >= ADULT_AGE) return player;
  if (row.guardianEmail === '') {
    throw new Cannot(
      `${name} is under ${ADULT_AGE}: write the name and the e-mail address of a guardian too.`,
    );
  }
  const guardianEmail = emailIn(row.guardianEmail, 'the guardian’s');
  if (guardianEmail === email) {
    throw new Cannot('The guardian’s address is the player’s own. Write the parent’s or guardian’s.');
  }
  return { ...player, guardianName: nameIn(row.guardianName, 'the guardian’s name'), guardianEmail };
};

const guardianOf = (row: WrittenRow, today: Day, { players }: TableStanding): RowInvitation => {
  const [name, email] = [nameIn(row.name, 'the guardian’s name'), emailIn(row.email, 'the guardian’s')];
  const guardian = { ...NONE, role: 'guardian' as const, name, email };
  if (row.childName === '') {
    if (row.childBirthDate !== '') throw new Cannot('There is a child’s birth date without a child’s name.');
    return guardian;
  }
  const childName = nameIn(row.childName, 'the child’s name');
  const childBirthDate = row.childBirthDate === '' ? null : dayIn(row.childBirthDate, today);
  if (childBirthDate && ageOn(childBirthDate, today) >= ADULT_AGE) {
    throw new Cannot(
      `${childName} is ${ADULT_AGE} or older: a grown player is invited with the role player.`,
    );
  }
  const namesakes = players.filter((player) => same(player.name, childName));
  const [player, ...more] = namesakes.filter(({ birthDate }) => birthDate && birthDate === childBirthDate);
  if (player && more.length === 0) return { ...guardian, playerId: player.personId };
  if (more.length > 0 || namesakes.some(({ birthDate }) => !birthDate || !childBirthDate)) {
    throw new Cannot(
      `A player called ${childName} is here already, and it is not sure that it is the same child. Write the birth ` +
        'date as it stands there, or invite the guardian on the people page.',
    );
  }
  return { ...guardian, childName, childBirthDate };
};

const readRow = (row: WrittenRow, today: Day, standing: TableStanding): RowInvitation => {
  const role = ROLE_OF[row.role.toLowerCase()];
  if (!role) {
    throw new Cannot(
      row.role.toLowerCase() === 'lead'
        ? 'A lead is made from a coach, on the people page.'
        : `The role has to be player, guardian or coach${row.role === '' ? '' : `, not “${row.role}”`}.`,
    );
  }
  if (role !== 'guardian' && row.childName !== '') {
    throw new Cannot('Only a guardian has a child in the table. Is the role right?');
  }
  if (role === 'player') return playerOf(row, today);
  if (role === 'guardian') return guardianOf(row, today, standing);
  return {
    ...NONE,
    role,
    name: nameIn(row.name, 'the coach’s name'),
    email: emailIn(row.email, 'the coach’s'),
  };
};

const isHere = (one: RowInvitation, { members }: TableStanding): boolean => {
  const member = members.find(({ email }) => email === one.email);
  if (!member) return false;
  if (one.role === 'guardian' && one.playerId) return member.wards.includes(one.playerId);
  return member.roles.includes(one.role) || (one.role === 'coach' && member.roles.includes('lead'));
};
const isOpen = (one: RowInvitation, { open }: TableStanding): boolean =>
  open.some(
    ({ email, role, playerId, childName }) =>
      email === one.email && role === one.role && playerId === one.playerId && same(childName, one.childName),
  );

const wordsOf = (one: RowInvitation, row: WrittenRow): string => {
  if (one.role === 'coach') return 'Will be invited as a coach.';
  if (one.role === 'guardian') {
    if (one.playerId) return `Will be invited as guardian of ${row.childName}.`;
    return one.childName
      ? `Will be invited as a guardian, and adds ${one.childName}.`
      : 'Will be invited as a guardian, and adds their child.';
  }
  return one.guardianEmail
    ? `Will be invited as a player; ${one.guardianEmail} is invited as guardian once the player has accepted.`
    : 'Will be invited as a player.';
};

const HERE_WORDS = 'Is here already. Nothing is sent.';
const OPEN_WORDS = 'Was invited and has not answered yet. Nothing is sent again.';

/** What would become of each row, in the order of the table. Of two rows that say the same the first counts. */
export const judgeRows = (rows: readonly WrittenRow[], standing: TableStanding, today: Day): JudgedRow[] => {
  const firstAt = new Map<string, number>();
  return rows.map((written): JudgedRow => {
    try {
      const one = readRow(written, today, standing);
      const place = [one.role, one.email, one.playerId ?? one.childName?.toLowerCase() ?? ''].join('\n');
      const first = firstAt.get(place);
      if (first !== undefined) throw new Cannot(`The same as row ${first}.`);
      firstAt.set(place, written.row);
      if (isHere(one, standing)) return { written, outcome: 'here', words: HERE_WORDS, invitation: null };
      if (isOpen(one, standing)) return { written, outcome: 'open', words: OPEN_WORDS, invitation: null };
      return { written, outcome: 'invite', words: wordsOf(one, written), invitation: one };
    } catch (reason) {
      if (!(reason instanceof Cannot)) throw reason;
      return { written, outcome: 'cannot', words: reason.words, invitation: null };
    }
  });
};
