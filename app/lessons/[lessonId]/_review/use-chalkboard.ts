'use client';

import { useEffect, useRef, useState, useSyncExternalStore, type RefObject } from 'react';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { setMarks } from '@/lib/domain/review/edits';
import type { Mark } from '@/lib/domain/marks/mark';
import type { Sheet } from '@/lib/domain/review/sheet';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import { createChalkboard } from '@/lib/review/input/chalkboard';
import { BOARD_AT_REST, type Chalkboard, type ChalkboardSnapshot } from '@/lib/review/input/chalkboard-state';
import type { Player } from '@/lib/review/player/player';

const nothing = () => () => {};
const atRest = () => BOARD_AT_REST;

type Given = {
  stage: RefObject<HTMLDivElement | null>;
  clip: ClipOnPage | null;
  player: Player | null;
  saver: SheetSaver | null;
  sheet: Sheet;
  itemId: string | null;
  onGoTo: (clipId: string, frame: number) => void;
};

/** The chalk over the clip that is on the stage. Marks go to the sheet after every gesture and come from it when others change it. */
export function useChalkboard({ stage, clip, player, saver, sheet, itemId, onGoTo }: Given): {
  board: Chalkboard | null;
  chalk: ChalkboardSnapshot;
} {
  const [board, setBoard] = useState<Chalkboard | null>(null);
  const goTo = useRef(onGoTo);
  useEffect(() => {
    goTo.current = onGoTo;
  });
  const own = useRef<readonly Mark[] | null>(null);
  const width = player?.source.width;
  const height = player?.source.height;
  const clipId = clip?.id;

  useEffect(() => {
    if (!stage.current || !player || !saver || !clipId || !width || !height) return;
    const made = createChalkboard({
      stage: stage.current,
      picture: { width, height },
      clipId,
      marks: saver.getSnapshot().sheet.marks,
      newId: () => crypto.randomUUID(),
      onMarks: (marks) => {
        own.current = marks;
        saver.edit((before) => setMarks(before, marks));
      },
      onGoTo: (id, frame) => goTo.current(id, frame),
    });
    const stop = player.onPicture((picture, index) => made.showPicture(picture, index));
    setBoard(made);
    return () => {
      stop();
      made.dispose();
      setBoard(null);
    };
  }, [stage, player, saver, clipId, width, height]);

  useEffect(() => board?.setItem(itemId), [board, itemId]);
  // What this board drew itself comes back through the sheet: taking it would give up the next stroke, already begun.
  useEffect(() => {
    const drawn = own.current;
    const isOwn = drawn?.length === sheet.marks.length && drawn.every((mark, at) => mark === sheet.marks[at]);
    if (board && !isOwn) board.adoptMarks(sheet.marks);
  }, [board, sheet.marks]);

  const chalk = useSyncExternalStore(board?.subscribe ?? nothing, board?.getSnapshot ?? atRest, atRest);
  return { board, chalk };
}
