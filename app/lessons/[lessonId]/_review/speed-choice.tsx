'use client';

import { type Speed, SPEEDS } from '@/lib/review/player/playhead';

type Props = {
  speed: Speed;
  onSpeed: (speed: Speed) => void;
  className: string | undefined;
  pickClass: string | undefined;
};

const SPEED_WORD = { 0.125: '1/8', 0.25: '1/4', 0.5: '1/2', 1: 'as it was' } as const satisfies Record<
  Speed,
  string
>;

/** How fast a swing plays. */
export const SpeedChoice = ({ speed, onSpeed, className, pickClass }: Props) => (
  <label className={className}>
    <span className="small soft">Speed</span>
    <select
      className={pickClass}
      value={speed}
      onChange={(event) => onSpeed(Number(event.target.value) as Speed)}
    >
      {SPEEDS.map((one) => (
        <option key={one} value={one}>
          {SPEED_WORD[one]}
        </option>
      ))}
    </select>
  </label>
);
