import { VERDICT_WORD } from '@/lib/domain/lessons/words';
import { MEASURE_LABEL } from '@/lib/domain/measures/words';
import { VERDICTS, type Verdict } from '@/lib/domain/checkpoints/checkpoint';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { Cell } from '@/lib/domain/progress/csv';
import { ITEM_STATE_WORD, type ItemState } from '@/lib/domain/progress/item-rows';
import type { PersonId } from '@/lib/domain/shared/ids';
import { progressOf, type Progress } from './progress-of';

const HEAD = [
  ...['lesson', 'sent', 'kind', 'checkpoint or clip view', 'name', 'verdict', 'status'],
  ...['value', 'unit', 'low', 'high', 'pictures a second', 'task', 'reason'],
];
/** Pages of lessons that one file holds at most. */
const MOST_PAGES = 40;

/** Every verdict and measure of a player's lessons as rows under a head, oldest lesson first. */
export async function progressRows(
  viewer: Viewer,
  player: { id: PersonId; name: string },
): Promise<Cell[][]> {
  const pages: Progress[] = [];
  let before: number | null = null;
  for (let page = 0; page < MOST_PAGES; page++) {
    const progress: Progress = await progressOf(viewer, player, before);
    pages.unshift(progress);
    before = progress.swings[0]?.number ?? null;
    if (!progress.hasEarlier) break;
  }
  return [HEAD, ...pages.flatMap(rowsOf)];
}

const isVerdict = (state: ItemState): state is Verdict => (VERDICTS as readonly string[]).includes(state);
const rounded = (value: number | null | undefined) => (value == null ? null : Math.round(value * 100) / 100);

const rowsOf = ({ swings, items, series }: Progress): Cell[][] =>
  swings.flatMap((swing, index): Cell[][] => {
    const lead = [swing.number, swing.submittedAt.toISOString()];
    const verdicts = items.map(({ checkpoint, title, states }): Cell[] => {
      const state = states[index] ?? 'waiting';
      const word = isVerdict(state) ? VERDICT_WORD[state] : ITEM_STATE_WORD[state];
      return [...lead, 'item', checkpoint, title, word, ...Array<Cell>(8).fill(null)];
    });
    const measures = series.flatMap(({ measure, points }): Cell[][] => {
      const occasion = points[index]?.occasion;
      if (!occasion) return [];
      const { status, value, unit, interval, reason } = occasion.measure;
      const { view, captureRate, task } = occasion.conditions;
      return [
        [
          ...[...lead, 'measure', view, MEASURE_LABEL[measure], null, status],
          ...[rounded(value), unit, rounded(interval?.[0]), rounded(interval?.[1])],
          ...[captureRate, task, reason],
        ],
      ];
    });
    return [...verdicts, ...measures];
  });
