import type { ReactNode } from 'react';
import { VIEW_WORD } from '@/lib/domain/lessons/words';
import type { MeasureName } from '@/lib/domain/measures/names';
import type { Target } from '@/lib/domain/measures/target';
import { bestMeasure, type ClipMeasured } from './measured';
import { MeasureLine, type When } from './measure-lines';
import css from './measure.module.css';

type Props = When & {
  names: readonly MeasureName[];
  measured: readonly ClipMeasured[];
  clipId: string | null;
  targets: ReadonlyMap<MeasureName, Target>;
  isPlayers?: boolean;
  /** Under each measure. */
  children?: (name: MeasureName) => ReactNode;
};

/** The measures that stand beside an item or a checkpoint, each from the clip that says most about it. */
export const ItemMeasures = ({
  names,
  measured,
  clipId,
  targets,
  isPlayers = false,
  children,
  ...when
}: Props) =>
  names.length === 0 || measured.length === 0 ? null : (
    <div className={css.lines}>
      {names.map((name) => {
        const best = bestMeasure(name, measured, clipId);
        if (!best) return null;
        const { view } = best.from;
        return (
          <div key={name}>
            <MeasureLine
              measure={best.measure}
              target={targets.get(name) ?? null}
              isPlayers={isPlayers}
              from={clipId !== best.from.clipId && view ? `${VIEW_WORD[view].toLowerCase()} clip` : null}
              {...when}
            />
            {children?.(name)}
          </div>
        );
      })}
    </div>
  );
