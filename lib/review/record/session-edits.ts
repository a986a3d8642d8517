import { cutBack, insertPiece, removeStretch } from '@/lib/domain/breakdowns/join';
import type { Piece, Recipe } from '@/lib/domain/breakdowns/timeline';
import type { TakeBook } from './take-book';

/** Changes of what is used of the takes. Nothing recorded is deleted by them, so each can be taken back. */
export const createEdits = (parts: {
  /** The breakdown at hand; null while a take runs, or without one. */
  book: () => TakeBook | null;
  onChange: () => void;
}) => {
  let before: (readonly Piece[])[] = [];
  const edit = async (change: (recipe: Recipe) => Recipe): Promise<void> => {
    const book = parts.book();
    if (!book) return;
    before = [...before, book.pieces];
    await book.usePieces(change(book.recipe).pieces);
    parts.onChange();
  };
  return {
    get canUndo() {
      return before.length > 0;
    },
    forgetUndo: () => {
      before = [];
    },
    /** Takes the last change back. */
    undo: async (): Promise<void> => {
      const pieces = before.at(-1);
      const book = parts.book();
      if (!book || !pieces) return;
      before = before.slice(0, -1);
      await book.usePieces(pieces);
      parts.onChange();
    },
    /** Leaves out everything after a moment (milliseconds of the whole). */
    cutBackTo: (ms: number) => edit((recipe) => cutBack(recipe, Math.max(0, ms))),
    removeStretch: (fromMs: number, toMs: number) => edit((recipe) => removeStretch(recipe, fromMs, toMs)),
    /** Drops a spoken remark of the coach's shelf in at a moment. */
    insertRemark: (remark: { id: string; durationMs: number }, atMs: number) => {
      const piece: Piece = { segmentId: remark.id, kind: 'remark', fromMs: 0, toMs: remark.durationMs };
      return edit((recipe) => insertPiece(recipe, atMs, piece));
    },
  };
};
