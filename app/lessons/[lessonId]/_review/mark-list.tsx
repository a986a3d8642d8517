'use client';

import { Icon } from '@/app/_ui/icon';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import { describeMark, MARK_NAME } from '@/lib/domain/marks/describe';
import { WHY_ON_SCREEN } from '@/lib/domain/marks/on-screen-angle';
import type { Chalkboard, ChalkboardSnapshot } from '@/lib/review/input/chalkboard-state';
import css from './bench.module.css';

type Props = {
  board: Chalkboard | null;
  chalk: ChalkboardSnapshot;
  clip: ClipOnPage | null;
  checklist: Checklist;
};

/** The marks of the frame on the stage as a real list: choose, hide or rub out each. */
export const MarkList = ({ board, chalk, clip, checklist }: Props) => {
  const marks = chalk.marksHere;
  const size = { width: clip?.width ?? 16, height: clip?.height ?? 9 };
  return (
    <section aria-label="Marks on this frame">
      <p className={css.sub}>
        <span className="over">Marks on this frame</span>
        <span className="num">{marks.length}</span>
      </p>
      <ul className={css.marklist}>
        {marks.map((mark) => {
          const title = checklist.find((item) => item.id === mark.itemId)?.title ?? null;
          const name = MARK_NAME[mark.kind];
          return (
            <li key={mark.id}>
              <span className={css.swatch} data-chalk={mark.chalk} />
              <button
                type="button"
                className={css.markname}
                aria-pressed={mark.id === chalk.selectedId}
                title={describeMark(mark, size, title)}
                onClick={() => board?.select(mark.id)}
              >
                {mark.kind === 'text' ? `“${mark.text}”` : name}
                {title ? <span className="soft"> {title}</span> : null}
                <span className="sr">. {describeMark(mark, size, title)}</span>
              </button>
              <button
                type="button"
                className={css.tool1}
                aria-label={`${mark.hidden ? 'Show' : 'Hide'} ${name}`}
                onClick={() => board?.setHidden(mark.id, !mark.hidden)}
              >
                <Icon name={mark.hidden ? 'hide' : 'eye'} />
              </button>
              <button
                type="button"
                className={css.tool1}
                aria-label={`Rub out ${name}`}
                onClick={() => board?.remove(mark.id)}
              >
                <Icon name="cross" />
              </button>
            </li>
          );
        })}
      </ul>
      {marks.some((mark) => mark.kind === 'angle') ? <p className="small soft">{WHY_ON_SCREEN}</p> : null}
    </section>
  );
};
