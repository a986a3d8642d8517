import * as z from 'zod';
import type { PersonRef } from '../lessons/lesson';
import { STATE_WORD } from '../lessons/words';
import { anId, type LessonId, type PersonId } from '../shared/ids';

/** Counts of the desk end here: "100" then means that there are so many or more. */
export const MOST_COUNTED = 100;

export const DESK_FILTERS = ['mine', 'open', 'all', 'care', 'returned'] as const;
export type DeskFilter = (typeof DESK_FILTERS)[number];

const yes = z.literal('yes').optional().catch(undefined);

// What is not understood counts as not said: an address may be old, cut short or written by hand.
const addressSchema = z.object({
  show: z.enum(DESK_FILTERS).catch('mine'),
  coach: anId<PersonId>().optional().catch(undefined),
  state: z.enum(['submitted', 'in_review']).optional().catch(undefined),
  players: z.enum(['minors', 'adults']).optional().catch(undefined),
  overdue: yes,
  unpaid: yes,
  checklist: z.coerce.number().int().min(1).max(100_000).optional().catch(undefined),
  find: z.string().trim().max(80).catch(''),
});

/** What stands on the desk: the list, and what narrows it. All of it is in the address. */
export interface DeskQuery {
  filter: DeskFilter;
  coachId?: PersonId | undefined;
  state?: 'submitted' | 'in_review' | undefined;
  players?: 'minors' | 'adults' | undefined;
  isOverdue?: boolean | undefined;
  isUnpaid?: boolean | undefined;
  /** The number of the checklist's version. */
  checklist?: number | undefined;
  find?: string | undefined;
}

type Address = Record<string, string | string[] | undefined>;

/** The query of an address's search parameters; what it does not understand is left out. */
export function parseDeskQuery(address: Address): DeskQuery {
  const first = Object.fromEntries(
    Object.entries(address).map(([key, value]) => [key, Array.isArray(value) ? value[0] : value]),
  );
  const { show, coach, overdue, unpaid, find, ...rest } = addressSchema.parse(first);
  return {
    filter: show,
    coachId: coach,
    isOverdue: overdue === 'yes',
    isUnpaid: unpaid === 'yes',
    find,
    ...rest,
  };
}

/** The address's part after "?" for a query, always in the same order, so that equal queries are equal words. */
export function deskAddress({ filter, coachId, isOverdue, isUnpaid, ...rest }: DeskQuery): string {
  const said = {
    show: filter,
    coach: coachId,
    state: rest.state,
    players: rest.players,
    overdue: isOverdue ? 'yes' : undefined,
    unpaid: isUnpaid ? 'yes' : undefined,
    checklist: rest.checklist,
    find: rest.find?.trim() ? rest.find.trim() : undefined,
  };
  const pairs = Object.entries(said).flatMap(([key, value]) =>
    value === undefined ? [] : [[key, String(value)]],
  );
  return new URLSearchParams(pairs).toString();
}

/** What narrows the list, each in a few words with the query that is without it; empty when nothing does. */
export function narrowedBy(
  query: DeskQuery,
  coaches: readonly PersonRef[],
): { words: string; without: DeskQuery }[] {
  const coach = coaches.find(({ id }) => id === query.coachId)?.name ?? 'A coach who left';
  const all: [boolean, string, Partial<DeskQuery>][] = [
    [query.coachId !== undefined, coach, { coachId: undefined }],
    [query.state !== undefined, query.state ? STATE_WORD[query.state] : '', { state: undefined }],
    [query.players !== undefined, query.players === 'minors' ? 'Minors' : 'Adults', { players: undefined }],
    [query.isOverdue === true, 'Overdue', { isOverdue: false }],
    [query.isUnpaid === true, 'Not paid', { isUnpaid: false }],
    [query.checklist !== undefined, `Checklist ${query.checklist}`, { checklist: undefined }],
    [Boolean(query.find?.trim()), `“${query.find}”`, { find: '' }],
  ];
  return all.flatMap(([is, words, change]) => (is ? [{ words, without: { ...query, ...change } }] : []));
}

/** The last row of a page, from which the next one goes on: the instant the list is ordered by, and the lesson. */
export interface DeskCursor {
  at: Date;
  id: LessonId;
}

/** A cursor as it stands in the address. */
export const cursorAddress = ({ at, id }: DeskCursor): string => `${at.toISOString()}_${id}`;

/** The cursor of an address, or null for what is none. */
export function parseCursor(text: string | string[] | undefined): DeskCursor | null {
  const [at, id] = typeof text === 'string' ? text.split('_') : [];
  const parsed = z.object({ at: z.iso.datetime(), id: anId<LessonId>() }).safeParse({ at, id });
  return parsed.success ? { at: new Date(parsed.data.at), id: parsed.data.id } : null;
}

/** What a named view of the desk is: the name on its link and the query behind it. */
export const deskViewSchema = z.object({
  name: z.string().trim().min(1, 'Give it a name.').max(40, 'Forty letters at most.'),
  query: z.string().max(400),
});
