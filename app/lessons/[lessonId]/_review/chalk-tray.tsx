'use client';

import { Icon } from '@/app/_ui/icon';
import { CHALKS } from '@/lib/domain/marks/mark';
import type { ChalkboardSnapshot } from '@/lib/review/input/chalkboard-state';
import { TOOL_IDS, type ToolId } from '@/lib/review/input/tools/tool';
import type { RunCommand } from './bench-commands';
import css from './bench.module.css';
import { CommandButton } from './command-button';

const ICON = {
  select: 'pick',
  line: 'line',
  arrow: 'arrow',
  plumb: 'plumb',
  angle: 'angle',
  circle: 'circle',
  freehand: 'freehand',
  text: 'word',
  erase: 'bin',
} as const satisfies Record<ToolId, string>;

type Props = {
  chalk: ChalkboardSnapshot;
  isReady: boolean;
  run: RunCommand;
  /** What is being placed on the stage instead of chalk. */
  measureMode: 'ground' | 'points' | null;
  canMeasure: boolean;
};

/** Tools and chalks at the thumb, with take back and bring back. */
export const ChalkTray = ({ chalk, isReady, run, measureMode, canMeasure }: Props) => (
  <div className={css.tray} role="toolbar" aria-label="Chalk">
    {TOOL_IDS.map((tool) => (
      <CommandButton
        key={tool}
        id={`tool-${tool}`}
        run={run}
        isPressed={chalk.tool === tool}
        isOff={!isReady}
      >
        <Icon name={ICON[tool]} />
      </CommandButton>
    ))}
    <span className={css.gap} />
    {CHALKS.map((one) => (
      <CommandButton key={one} id={`chalk-${one}`} run={run} isPressed={chalk.chalk === one} isOff={!isReady}>
        <span className={css.dot} data-chalk={one} />
      </CommandButton>
    ))}
    <span className={css.gap} />
    <CommandButton id="undo" run={run} isOff={!chalk.canUndo}>
      <Icon name="undo" />
    </CommandButton>
    <CommandButton id="redo" run={run} isOff={!chalk.canRedo}>
      <Icon name="redo" />
    </CommandButton>
    <CommandButton id="show-chalk" run={run} isPressed={chalk.isChalkShown} isOff={!isReady}>
      <Icon name={chalk.isChalkShown ? 'eye' : 'hide'} />
    </CommandButton>
    <span className={css.gap} />
    <CommandButton id="ground" run={run} isPressed={measureMode === 'ground'} isOff={!canMeasure}>
      <Icon name="ground" />
    </CommandButton>
    <CommandButton id="points" run={run} isPressed={measureMode === 'points'} isOff={!canMeasure}>
      <Icon name="points" />
    </CommandButton>
    <CommandButton
      id="pen-mode"
      run={run}
      isPressed={chalk.isPenMode}
      isOff={!isReady}
      className={`btn small ${css.penmode}`}
    >
      Pen only
    </CommandButton>
    <CommandButton id="help" run={run} className="btn small">
      Keys
    </CommandButton>
  </div>
);
