import { Icon } from '@/app/_ui/icon';
import type { TrimRange } from './trim-range';
import styles from './trim.module.css';

type Props = {
  range: TrimRange;
  /** Length of the clip in tenths of a second. */
  length: number;
  onMove: (handle: 'start' | 'end', to: number) => void;
};

const HANDLES = [
  { handle: 'start', word: 'Begin' },
  { handle: 'end', word: 'End' },
] as const;

/**
 * Two handles on one line. Each is a real slider (arrow keys, spoken value) that lets touches through except on its
 * handle, and has a number beside it with buttons of a tenth of a second, so that nothing has to be dragged.
 */
export const TrimHandles = ({ range, length, onMove }: Props) => (
  <>
    <div className={styles.line}>
      <svg viewBox={`0 0 ${length} 10`} preserveAspectRatio="none" aria-hidden="true" focusable="false">
        <rect className={styles.all} x="0" y="3" width={length} height="4" />
        <rect className={styles.part} x={range.start} y="1" width={range.end - range.start} height="8" />
      </svg>
      {HANDLES.map(({ handle, word }) => (
        <input
          key={handle}
          type="range"
          min={0}
          max={length}
          step={1}
          value={range[handle]}
          aria-label={word}
          aria-valuetext={`${(range[handle] / 10).toFixed(1)} seconds`}
          onChange={(event) => onMove(handle, event.target.valueAsNumber)}
        />
      ))}
    </div>
    <div className={styles.numbers}>
      {HANDLES.map(({ handle, word }) => (
        <div key={handle} className={styles.number} role="group" aria-label={`${word}, in seconds`}>
          <span className="small">{word}</span>
          <button
            type="button"
            className="btn bare"
            aria-label={`${word} a tenth earlier`}
            onClick={() => onMove(handle, range[handle] - 1)}
          >
            <Icon name="minus" />
          </button>
          <input
            className="write num"
            type="number"
            inputMode="decimal"
            step="0.1"
            min={0}
            max={length / 10}
            aria-label={`${word}, seconds`}
            value={(range[handle] / 10).toFixed(1)}
            onChange={(event) => onMove(handle, event.target.valueAsNumber * 10)}
          />
          <button
            type="button"
            className="btn bare"
            aria-label={`${word} a tenth later`}
            onClick={() => onMove(handle, range[handle] + 1)}
          >
            <Icon name="plus" />
          </button>
        </div>
      ))}
    </div>
  </>
);
