import { cache } from 'react';
import { listSwings, SWINGS_AT_ONCE, type Swing } from '@/lib/data/progress.read';
import { listTargets } from '@/lib/data/targets.read';
import { measuresOfItem } from '@/lib/domain/measures/items';
import { MEASURE_NAMES } from '@/lib/domain/measures/names';
import type { Viewer } from '@/lib/domain/people/viewer';
import { headline } from '@/lib/domain/progress/headline';
import { itemRows, type ItemRow } from '@/lib/domain/progress/item-rows';
import { seriesOf, type Series } from '@/lib/domain/progress/series';
import type { PersonId } from '@/lib/domain/shared/ids';
import { keptMeasures, measuredSwings } from './measured-swings';

/** What the player page tells of progress. */
export interface Progress {
  /** Oldest first. */
  swings: readonly Swing[];
  items: readonly ItemRow[];
  /** Of every measure, in the measures' own order. */
  series: readonly Series[];
  sentence: string;
  /** There are lessons before the first of these. */
  hasEarlier: boolean;
}

/** The newest lessons of a player (before a number, if one is given) with their items and measures; once a request. */
export const progressOf = cache(async function progressOf(
  viewer: Viewer,
  player: { id: PersonId; name: string },
  before: number | null,
): Promise<Progress> {
  const [newestFirst, targets] = await Promise.all([
    listSwings(viewer, player.id, { before }),
    listTargets(viewer, player.id),
  ]);
  // What is still being written is nobody's progress yet.
  const swings = newestFirst.map((swing) => ({ ...swing, sheet: swing.returned })).reverse();
  const measured = (await measuredSwings(swings)).map(keptMeasures);
  const series = MEASURE_NAMES.map((name) =>
    seriesOf(
      name,
      swings.map((swing, index) => ({
        lessonId: swing.lessonId,
        number: swing.number,
        at: swing.submittedAt,
        occasion: measured[index]?.get(name) ?? null,
      })),
      targets,
    ),
  );
  const fixFirst = swings.findLast((swing) => swing.sheet?.fixFirst)?.sheet?.fixFirst?.itemId;
  return {
    swings,
    items: itemRows(swings),
    series,
    sentence: headline(series, {
      whose: viewer.personId === player.id ? 'your' : `${player.name.split(' ')[0] ?? player.name}’s`,
      first: fixFirst ? measuresOfItem(fixFirst) : [],
    }),
    hasEarlier: newestFirst.length === SWINGS_AT_ONCE && (swings[0]?.number ?? 1) > 1,
  };
});
