import type { Role, Viewer } from '@/lib/domain/people/viewer';
import { prisma } from './client';
import { taggedQuery } from './text-query';

/** Of so many people whose name fits, the first by name are told. */
const MOST_NAMES = 200;

/**
 * Ids of people with one of the roles in the viewer's program whose name holds all the words, by name, at most `take`.
 * Who may see them is for the caller to ask.
 */
export async function idsByName(
  viewer: Viewer,
  typed: string,
  roles: Role[],
  take: number,
): Promise<string[]> {
  const query = taggedQuery(typed);
  if (query === null) return [];
  // Program and role are asked of what was found: among the words, they would have the planner gather all players.
  const found = await prisma.$queryRaw<{ id: string }[]>`
    WITH hits AS MATERIALIZED (SELECT "personId", "sortName", role, "programId" FROM "Membership"
      WHERE tagged_words(program_tag("programId"), "sortName")
          @@ to_tsquery('simple', format(${query}, program_tag(${viewer.programId}::uuid))) OFFSET 0)
    SELECT DISTINCT "sortName", "personId" AS id FROM (SELECT * FROM hits
      WHERE role::text = ANY(${roles}) AND "programId" = ${viewer.programId}::uuid LIMIT ${MOST_NAMES}) fitting
    ORDER BY "sortName", "personId" LIMIT ${take}`;
  return found.map(({ id }) => id);
}
