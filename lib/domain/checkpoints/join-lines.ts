import type { Checklist, ChecklistItem } from './checklist';
import type { ChecklistLine } from './versions';

const isLike = (line: Omit<ChecklistLine, 'id'>, item: ChecklistItem): boolean =>
  line.checkpoint === item.checkpoint &&
  line.title === item.title &&
  line.lookFor === item.lookFor &&
  line.standing === item.standing &&
  line.views.length === item.views.length &&
  line.views.every((view) => item.views.includes(view));

/**
 * What a lead wrote on top of `base`, on top of a version that somebody else saved meanwhile. An item that the lead
 * left alone is taken from theirs (or is gone with it); one that both changed stays as the lead wrote it; new ones of
 * both are kept. In the lead's order, theirs at the end.
 */
export const joinLines = <L extends ChecklistLine>(
  base: Checklist,
  mine: readonly L[],
  theirs: Checklist,
): (L | ChecklistItem)[] => {
  const [before, now] = [new Map(base.map((i) => [i.id, i])), new Map(theirs.map((i) => [i.id, i]))];
  const joined = mine.flatMap((line): (L | ChecklistItem)[] => {
    const old = line.id === null ? undefined : before.get(line.id);
    if (!old || !isLike(line, old)) return [line];
    const taken = now.get(old.id);
    return taken ? [{ ...line, ...taken }] : [];
  });
  const there = new Set(joined.map((line) => line.id));
  return [...joined, ...theirs.filter((item) => !before.has(item.id) && !there.has(item.id))];
};
