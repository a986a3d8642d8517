'use client';

import { Icon } from '@/app/_ui/icon';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { Hand } from '@/lib/domain/lessons/state';
import type { JointName } from '@/lib/domain/measures/names';
import type { Target } from '@/lib/domain/measures/target';
import { JOINT_LABEL, JOINT_SHORT } from '@/lib/domain/measures/words';
import { pinOf, putJoint, removeJoint } from '@/lib/domain/review/edits';
import type { Sheet } from '@/lib/domain/review/sheet';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import { HitterFigure } from './hitter-figure';
import css from './measure.module.css';
import { MeasureLine, type When } from './measure-lines';
import { SuggestPanel } from './suggest-panel';
import type { Measuring } from './use-measuring';

type Props = When & {
  measuring: Measuring;
  clip: ClipOnPage;
  frame: number;
  bats: Hand;
  sheet: Sheet;
  saver: SheetSaver;
  targets: ReadonlyMap<string, Target>;
  onGoTo: (frame: number) => void;
};

const FEET: readonly JointName[] = ['stride-heel', 'stride-toe', 'rear-heel', 'rear-toe'];

/** Points of the hitter, one after the other, with the numbers they make at once. */
export const PointsPanel = ({
  measuring,
  clip,
  frame,
  bats,
  sheet,
  saver,
  targets,
  onGoTo,
  ...when
}: Props) => {
  const strike = pinOf(sheet, 'foot_strike', clip.id);
  const contact = pinOf(sheet, 'contact', clip.id);
  const names = measuring.points.map(({ name }) => name as JointName);
  const jointAt = (name: JointName) =>
    sheet.joints.find((j) => j.clipId === clip.id && j.frame === frame && j.name === name);
  const isSet = (name: JointName) => jointAt(name) !== undefined;
  const here = measuring.measured.find((one) => one.clipId === clip.id);
  const planted = [
    ...new Set(
      sheet.joints.filter((j) => j.clipId === clip.id && j.frame !== strike?.frame).map((j) => j.frame),
    ),
  ].sort((a, b) => a - b);
  return (
    <section className={css.panel} aria-label="Points of the hitter">
      <header className={css.head}>
        <h2>Points</h2>
        <button type="button" className="btn small" onClick={() => measuring.setMode(null)}>
          Done
        </button>
      </header>
      {!strike ? (
        <p>
          Pin foot strike on this clip first: the points belong to that frame. Find it in the strip and press
          Shift 3.
        </p>
      ) : (
        <>
          <p className="small soft">
            {frame === strike.frame
              ? `Frame ${frame}, foot strike.`
              : names.length > 0
                ? `Frame ${frame}, after foot strike. Set the stride foot here too while it stays down: the more frames, the surer the number.`
                : `Frame ${frame} takes no points. They belong to foot strike, frame ${strike.frame}${contact ? `, and for the stride foot to the frames from there to contact` : ''}.`}
          </p>
          <p className="acts">
            {frame === strike.frame ? null : (
              <button type="button" className="btn small" onClick={() => onGoTo(strike.frame)}>
                Go to foot strike, frame {strike.frame}
              </button>
            )}
            {planted
              .filter((at) => at !== frame)
              .map((at) => (
                <button key={at} type="button" className="btn quiet small" onClick={() => onGoTo(at)}>
                  Frame {at}
                </button>
              ))}
          </p>
        </>
      )}
      <SuggestPanel
        suggesting={measuring.suggesting}
        {...{ clip, frame, sheet, saver, onGoTo }}
        takesPoints={names.length > 0}
      />
      {names.length > 0 ? (
        <>
          <HitterFigure bats={bats} asked={measuring.asked} isSet={isSet} />
          <p className={css.asks} aria-live="polite">
            {measuring.asked
              ? `Set ${JOINT_LABEL[measuring.asked as JointName]}.`
              : 'Every point of this frame is set.'}
          </p>
          <ul className={css.rows}>
            {names.map((name) => {
              const joint = jointAt(name);
              return (
                <li key={name} className={name === measuring.asked ? css.rownow : undefined}>
                  <button
                    type="button"
                    className={css.rowname}
                    aria-current={name === measuring.asked ? 'step' : undefined}
                    onClick={() => measuring.choose(name)}
                  >
                    {JOINT_SHORT[name]}
                  </button>
                  {joint && FEET.includes(name) ? (
                    <label className={`small ${css.up}`}>
                      <input
                        type="checkbox"
                        checked={joint.isLifted}
                        onChange={(event) =>
                          saver.edit((before) =>
                            putJoint(before, { ...joint, isLifted: event.target.checked }),
                          )
                        }
                      />
                      in the air
                      <span className="sr">: {JOINT_SHORT[name]}</span>
                    </label>
                  ) : (
                    <span className={`small ${css.rowfact}`}>{joint ? 'set' : ''}</span>
                  )}
                  {joint ? (
                    <button
                      type="button"
                      className={css.rowact}
                      aria-label={`Take off the ${JOINT_SHORT[name]}`}
                      onClick={() => saver.edit((before) => removeJoint(before, joint))}
                    >
                      <Icon name="cross" />
                    </button>
                  ) : (
                    <span />
                  )}
                </li>
              );
            })}
          </ul>
        </>
      ) : null}
      {here ? (
        <section aria-label="Measures">
          <h3>What it makes</h3>
          {here.measures.map((measure) => (
            <MeasureLine
              key={measure.name}
              measure={measure}
              target={targets.get(measure.name) ?? null}
              {...when}
            />
          ))}
        </section>
      ) : null}
    </section>
  );
};
