import { zoneWords } from '@/lib/domain/lessons/words';
import type { Hand } from '@/lib/domain/lessons/state';
import { radioProps, type Choosing } from './choice-group';
import { Question } from './question';

const ZONES = [0, 1, 2, 3, 4, 5, 6, 7, 8];

const spoken = (zone: number, bats: Hand | null) => {
  const words = zoneWords(zone, bats);
  return words ? `${words.height}, ${words.side}` : '';
};

type Props = Choosing<number> & { legend: string; bats: Hand | null; error?: string | null; id?: string };

/**
 * Where the ball was: three by three over a drawn plate, as the catcher sees it, zones 0 to 8 row by row from the
 * top left. A radio group, so arrow keys move through it; the chosen cell also stands beside it in words.
 */
export const PlateGrid = ({ legend, bats, error, id, ...choosing }: Props) => {
  const words = choosing.value === null ? null : zoneWords(choosing.value, bats);
  const inside = bats === 'left' ? 'right' : 'left';
  return (
    <Question legend={legend} error={error} id={id}>
      <div className="platebox">
        <div>
          <div className="zg">
            {ZONES.map((zone) => (
              <label key={zone} className="pz">
                <input {...radioProps(choosing, zone)} aria-label={spoken(zone, bats)} />
                <span />
              </label>
            ))}
          </div>
          <svg className="zp" viewBox="0 0 150 40" aria-hidden="true" focusable="false">
            <path d="M28 4h94l8 14-55 18-55-18Z" />
          </svg>
        </div>
        <div>
          {words && (
            <p>
              {words.height}, <b>{words.side}</b>
            </p>
          )}
          <p className="small soft">
            As the catcher sees it.
            {bats && ` For a ${bats === 'right' ? 'righty' : 'lefty'}, inside is ${inside}.`}
            {choosing.value === null && ' Leave it open if you do not know.'}
          </p>
        </div>
      </div>
    </Question>
  );
};
