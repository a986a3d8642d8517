'use client';

import { useId, useState } from 'react';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { CHECKPOINT_NAME, type Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import { JOINT_SHORT } from '@/lib/domain/measures/words';
import { pin, pinOf } from '@/lib/domain/review/edits';
import type { Sheet } from '@/lib/domain/review/sheet';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import css from './measure.module.css';
import type { Suggesting } from './use-suggesting';

type Props = {
  suggesting: Suggesting;
  clip: ClipOnPage;
  frame: number;
  /** This frame takes points. */
  takesPoints: boolean;
  sheet: Sheet;
  saver: SheetSaver;
  onGoTo: (frame: number) => void;
};

const megabytes = (bytes: number) => Math.max(1, Math.round(bytes / 1e6));

/** Help with points and moments that only proposes. Not there where the model is not installed. */
export const SuggestPanel = (props: Props) => {
  const { suggesting, takesPoints } = props;
  if (!suggesting.offer) return null;
  if (suggesting.aim) return <Asking {...props} bytes={suggesting.offer.bytes} />;
  return (
    <>
      <p className="acts">
        {takesPoints ? (
          <button type="button" className="btn small" onClick={() => suggesting.setAim('points')}>
            Suggest the points
          </button>
        ) : null}
        <button type="button" className="btn small" onClick={() => suggesting.setAim('moments')}>
          Suggest foot strike and contact
        </button>
      </p>
      <SuggestedMoments {...props} />
      <SuggestedList {...props} />
    </>
  );
};

const EDGES = [
  ['Left edge', 'left'],
  ['Right edge', 'right'],
  ['Top edge', 'top'],
  ['Bottom edge', 'bottom'],
] as const;
type Edge = (typeof EDGES)[number][1];
/** Of the picture, in percent. */
const LEAST_SIDE = 5;

const Asking = ({ suggesting, bytes }: Props & { bytes: number }) => {
  const { aim, box, progress, refusal, frameCount } = suggesting;
  const costs = useId();
  // What is being typed may be no edge yet: 7 on the way to 75.
  const [typed, setTyped] = useState<Partial<Record<Edge, string>>>({});
  const edges: Record<Edge, number> = {
    left: Math.round(box.x * 100),
    right: Math.round((box.x + box.width) * 100),
    top: Math.round(box.y * 100),
    bottom: Math.round((box.y + box.height) * 100),
  };
  const setEdge = (edge: Edge, value: number) => {
    if (!Number.isFinite(value)) return;
    const next = { ...edges, [edge]: Math.min(100, Math.max(0, value)) };
    if (next.right - next.left < LEAST_SIDE || next.bottom - next.top < LEAST_SIDE) return;
    const [x, y] = [next.left / 100, next.top / 100];
    suggesting.setBox({ x, y, width: next.right / 100 - x, height: next.bottom / 100 - y });
  };
  return (
    <section className={css.suggested} aria-label="Suggestions" aria-describedby={costs}>
      <p className="small" id={costs}>
        Loads about {megabytes(bytes)} MB once. It then looks at{' '}
        {frameCount === 1 ? 'one frame' : `${frameCount} frames`}: less than a second a frame on most
        computers, some seconds a frame on a phone. The pictures do not leave this device.
      </p>
      {progress ? (
        <>
          <label className="small">
            {progress.is === 'loading'
              ? `Loading ${megabytes(progress.bytes)} of ${megabytes(bytes)} MB`
              : `Looking at frame ${Math.min(progress.done + 1, progress.of)} of ${progress.of}`}
            <progress
              className={css.progress}
              max={1}
              value={progress.is === 'loading' ? progress.bytes / bytes : progress.done / progress.of}
            />
          </label>
          <button type="button" className="btn small" onClick={suggesting.cancel}>
            Stop
          </button>
        </>
      ) : (
        <>
          <p>
            Draw a box round the hitter on the picture, head and feet inside
            {aim === 'moments' ? ', with room for the whole swing' : ''}. Or set its edges here, in percent of
            the picture.
          </p>
          <div className={css.limits}>
            {EDGES.map(([words, edge]) => (
              <label key={edge} className="small">
                {words}
                <input
                  type="number"
                  className="write"
                  min={0}
                  max={100}
                  value={typed[edge] ?? edges[edge]}
                  onChange={(event) => {
                    setTyped({ [edge]: event.target.value });
                    setEdge(edge, event.target.valueAsNumber);
                  }}
                  onBlur={() => setTyped({})}
                />
              </label>
            ))}
          </div>
          <p className="acts">
            <button type="button" className="btn small" onClick={suggesting.start}>
              {aim === 'points' ? 'Look for the points' : 'Look for the moments'}
            </button>
            <button type="button" className="btn quiet small" onClick={suggesting.cancel}>
              Not now
            </button>
          </p>
        </>
      )}
      {refusal ? <p role="alert">{refusal}</p> : null}
    </section>
  );
};

const SuggestedMoments = ({ suggesting, clip, frame, sheet, saver, onGoTo }: Props) => {
  const { moments } = suggesting;
  if (!moments) return null;
  const all: readonly (readonly [Checkpoint, number | null])[] = [
    ['foot_strike', moments.footStrike],
    ['contact', moments.contact],
  ];
  const open = all.flatMap(([checkpoint, at]) =>
    at !== null && pinOf(sheet, checkpoint, clip.id)?.frame !== at ? [{ checkpoint, at }] : [],
  );
  if (open.length === 0 && moments.footStrike !== null) return null;
  return (
    <section className={css.suggested} aria-label="Suggested moments" role="status">
      <p className="small">
        Suggested, not pinned: look at the frames beside each before you pin. Contact is taken from the hands,
        which are fastest a few frames before it.
        {moments.footStrike === null
          ? ' The way of the foot does not show foot strike to a frame: find it in the strip, before contact.'
          : ''}
      </p>
      {open.map(({ checkpoint, at }) => {
        const words = CHECKPOINT_NAME[checkpoint].toLowerCase();
        return frame === at ? (
          <button
            key={checkpoint}
            type="button"
            className="btn small"
            onClick={() =>
              saver.edit((before) => {
                const strike = checkpoint === 'foot_strike' ? 'full_plant' : null;
                const kept = pinOf(before, checkpoint, clip.id)?.strike ?? strike;
                return pin(before, { checkpoint, clipId: clip.id, frame: at, strike: kept });
              })
            }
          >
            Pin {words} here, frame {at}
          </button>
        ) : (
          <button key={checkpoint} type="button" className="btn small" onClick={() => onGoTo(at)}>
            Go to frame {at}, suggested {words}
          </button>
        );
      })}
    </section>
  );
};

const SuggestedList = ({ suggesting }: Props) => {
  const { joints } = suggesting;
  if (joints.length === 0) return null;
  return (
    <section className={css.suggested} aria-label="Suggested points" role="status">
      <p className="small">
        Suggested, not set: rings with a broken edge on the picture. Look at each, heels and toes above all:
        the model does not see where the sole meets the ground. No number is made of them until you take them.
      </p>
      <ul className={css.rows}>
        {joints.map((joint) => (
          <li key={joint.name}>
            <span>{JOINT_SHORT[joint.name]}</span>
            <button
              type="button"
              className="btn quiet small"
              aria-label={`Take it: ${JOINT_SHORT[joint.name]}`}
              onClick={() => suggesting.take([joint])}
            >
              Take it
            </button>
            <span />
          </li>
        ))}
      </ul>
      <p className="acts">
        <button type="button" className="btn small" onClick={() => suggesting.take(joints)}>
          Take {joints.length === 1 ? 'this one' : `all ${joints.length}`}
        </button>
        <button type="button" className="btn quiet small" onClick={suggesting.putAway}>
          Put them away
        </button>
      </p>
    </section>
  );
};
