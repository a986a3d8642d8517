// Lists go on by value, never by counting: rows that come or go meanwhile neither repeat nor skip one, and the
// thousandth page costs what the first one does.

import { validate as isUuid } from 'uuid';

/** The last row of a page: the instant its list is ordered by, and its id. */
export interface Place {
  at: Date;
  id: string;
}

/** A place as it stands in an address. */
export const placeWords = ({ at, id }: Place): string => `${at.toISOString()}_${id}`;

/** The place of an address; null for what is none, which is the beginning of the list. */
export function parsePlace(words: string | null | undefined): Place | null {
  const [, instant = '', id = ''] = /^(\d{4}-[\d:T.-]+Z)_([0-9a-f-]{36})$/.exec(words ?? '') ?? [];
  const at = new Date(instant);
  return !isUuid(id) || !(at.getTime() >= 0) ? null : { at, id };
}

/** Rows after a place in a list that begins with the newest (`field`, then `id`, both falling). */
// The first condition says nothing that the others do not; it is what an index can begin at.
export const olderThan = <Field extends string>(field: Field, place: Place | null) =>
  place === null
    ? {}
    : {
        [field]: { lte: place.at },
        OR: [{ [field]: { lt: place.at } }, { [field]: place.at, id: { lt: place.id } }],
      };

/** Rows after a place in a list that begins with the oldest (`field`, then `idField`, both rising). */
export const laterThan = <Field extends string>(field: Field, place: Place | null, idField = 'id') =>
  place === null
    ? {}
    : {
        AND: [
          { [field]: { gte: place.at } },
          { OR: [{ [field]: { gt: place.at } }, { [idField]: { gt: place.id } }] },
        ],
      };

/** One page of `take` rows out of `take + 1` that were asked for, and the address of the next; null at the end. */
export function pageOf<Row>(
  rows: readonly Row[],
  take: number,
  place: (row: Row) => Place,
): { rows: Row[]; next: string | null } {
  const page = rows.slice(0, take);
  const last = rows.length > take ? page.at(-1) : undefined;
  return { rows: page, next: last ? placeWords(place(last)) : null };
}

/** The last row of a page in a list by title, as it stands in an address. */
export const titlePlace = ({ id, title }: { id: string; title: string }): string => `${id}_${title}`;

/** Rows after a place in a list by `title`, then `id`; all of them for null and for what is no place. */
export function afterTitle(words: string | null | undefined) {
  const [, id = '', title = ''] = /^([0-9a-f-]{36})_(.*)$/su.exec(words ?? '') ?? [];
  // PostgreSQL refuses a NUL in any text, and what is no UUID in its place.
  if (!isUuid(id) || title.includes('\0')) return {};
  return { title: { gte: title }, OR: [{ title: { gt: title } }, { title, id: { gt: id } }] };
}

/** Memberships after a person in a list by name; all of them for null. */
export const afterName = (last: { name: string; id: string } | null) =>
  last === null
    ? {}
    : {
        sortName: { gte: last.name },
        OR: [{ sortName: { gt: last.name } }, { sortName: last.name, personId: { gt: last.id } }],
      };

/** So many rows `inTurn` wants of each page. */
export const AT_ONCE = 100;

/**
 * Every row of a list, however many there are, page by page: `read` answers `AT_ONCE` rows after a place, fewer at the end.
 */
export async function* inTurn<Row>(
  read: (place: Place | null) => Promise<Row[]>,
  placeOf: (row: Row) => Place | null,
): AsyncGenerator<Row[]> {
  for (let place: Place | null = null; ;) {
    const rows = await read(place);
    yield rows;
    const last = rows.at(-1);
    place = last === undefined ? null : placeOf(last);
    if (rows.length < AT_ONCE || place === null) return;
  }
}
