import { Notice } from './notice';

/** What came of keeping a form, once something did. */
export const Kept = ({ kept }: { kept: { isKept: boolean; words: string } | null }) =>
  kept ? <Notice kind={kept.isKept ? 'done' : 'refused'}>{kept.words}</Notice> : null;
