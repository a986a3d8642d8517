import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import type { ClipView } from '@/lib/domain/clips/clip';
import { VIEW_WORD } from '@/lib/domain/lessons/words';

const CARE: Partial<Record<ClipView, string>> = {
  front: ' Film from here only with a tee, or from behind a screen.',
  behind: ' Keep the phone behind a net or screen when the ball moves.',
};

/** What a place is good for, from the program's own checklist: how many things can be judged from there. */
export const viewWords = (view: ClipView, checklist: Checklist): string => {
  const seen = checklist.filter((item) => item.views.includes(view)).length;
  const all = checklist.length;
  const plate =
    view === 'open_side'
      ? ' With the plate in the picture the front foot can be measured on the ground.'
      : '';
  const many = seen === all ? `all ${all}` : `${seen} of ${all}`;
  return `${VIEW_WORD[view]}: your coach can judge ${many} things on the checklist.${plate}${CARE[view] ?? ''}`;
};
