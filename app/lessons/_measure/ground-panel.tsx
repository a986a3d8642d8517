'use client';

import { useState } from 'react';
import { ChoiceGroup } from '@/app/_ui/choice-group';
import { Icon } from '@/app/_ui/icon';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { Hand } from '@/lib/domain/lessons/state';
import type { Calibrated } from '@/lib/domain/measures/calibrate';
import { FIELD_SOURCES } from '@/lib/domain/measures/field';
import type { Field, GroundName } from '@/lib/domain/measures/names';
import { CORNER_LABEL } from '@/lib/domain/measures/words';
import { putCalibration, removeCalibration } from '@/lib/domain/review/edits';
import type { Calibration, Sheet } from '@/lib/domain/review/sheet';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import { CornerPlan } from './corner-plan';
import css from './measure.module.css';
import { emptyCalibration, changeCalibration, cornerOff, splitAt } from './placing';
import { GroundFacts } from './ground-facts';
import type { Measuring } from './use-measuring';

type Props = {
  measuring: Measuring;
  calibrated: Calibrated | null;
  clip: ClipOnPage;
  frame: number;
  bats: Hand;
  sheet: Sheet;
  saver: SheetSaver;
};

const FIELD_CHOICES = [
  { value: 'baseball', label: 'Baseball' },
  { value: 'softball', label: 'Softball' },
  { value: 'youth', label: 'Youth' },
  { value: 'plate', label: 'A plate alone' },
] as const;
const ZOOM_CHOICES = [
  { value: 'no', label: 'No' },
  { value: 'yes', label: 'Yes' },
  { value: 'unknown', label: 'Not known' },
] as const;
const ZOOM = { no: false, yes: true, unknown: null } as const;

/** Ground calibration, corner by corner: stands where the spine stands while the loupe lies over the stage. */
export const GroundPanel = ({ measuring, calibrated, clip, frame, bats, sheet, saver }: Props) => {
  const { calibration, points, asked, leftOut, isPlateOnly } = measuring;
  const [taken, setTaken] = useState<Calibration | null>(null);
  const now = calibration ?? emptyCalibration(clip.id);
  const change = (next: Partial<Calibration>) =>
    saver.edit((before) => changeCalibration(before, clip.id, frame, (one) => ({ ...one, ...next })));
  const corners = points as readonly { name: GroundName; point: { x: number; y: number } | null }[];
  const isSet = (at: GroundName) => now.ground.some((corner) => corner.at === at);
  const numberOf = (at: GroundName) => corners.findIndex((corner) => corner.name === at) + 1;
  const residualOf = (at: GroundName) =>
    calibrated?.ok ? (calibrated.corners.find((corner) => corner.at === at)?.residual ?? null) : null;
  const worst = calibrated?.worst ?? null;
  const stretches = sheet.calibrations
    .filter((one) => one.clipId === clip.id)
    .sort((a, b) => a.fromFrame - b.fromFrame);
  return (
    <section className={css.panel} aria-label="Ground">
      <header className={css.head}>
        <h2>Ground</h2>
        <button type="button" className="btn small" onClick={() => measuring.setMode(null)}>
          Done
        </button>
      </header>
      <p className="small soft">
        Set the corners of the plate and of the hitter’s box. The camera follows from them, and with it every
        measure. Timing needs none of this.
      </p>
      <ChoiceGroup
        name="field"
        legend="Field"
        value={isPlateOnly ? 'plate' : now.field}
        choices={FIELD_CHOICES}
        onChange={(value) => {
          measuring.setPlateOnly(value === 'plate');
          if (value !== 'plate') change({ field: value as Field });
        }}
      />
      <p className="small soft">
        {isPlateOnly
          ? 'A throw-down plate of official size is enough: 17 in wide.'
          : FIELD_SOURCES[now.field]}
      </p>
      <CornerPlan
        field={now.field}
        bats={bats}
        asked={asked}
        isSet={isSet}
        isOut={(at) => leftOut.has(at)}
        isPlateOnly={isPlateOnly}
        numberOf={numberOf}
      />
      <p className={css.asks} aria-live="polite">
        {asked ? (
          <>
            <b>{numberOf(asked as GroundName)}.</b> Set {CORNER_LABEL[asked as GroundName]}.
          </>
        ) : (
          'Every corner is set or left out.'
        )}
      </p>
      <ol className={css.rows}>
        {corners.map(({ name, point }) => {
          const residual = residualOf(name);
          return (
            <li key={name} className={name === asked ? css.rownow : undefined}>
              <button
                type="button"
                className={css.rowname}
                aria-current={name === asked ? 'step' : undefined}
                onClick={() => {
                  measuring.leaveOut(name, false);
                  measuring.choose(name);
                }}
              >
                <span className="num">{numberOf(name)}</span> {CORNER_LABEL[name]}
              </button>
              <span className={`small num ${css.rowfact}`}>
                {leftOut.has(name) && !point
                  ? 'left out'
                  : residual === null
                    ? point
                      ? 'set'
                      : ''
                    : `${residual.toFixed(1)} px off`}
                {name === worst && point ? <b> worst</b> : null}
              </span>
              {point ? (
                <button
                  type="button"
                  className={css.rowact}
                  aria-label={`Take off ${CORNER_LABEL[name]}`}
                  onClick={() => saver.edit((before) => cornerOff(before, clip.id, frame, name))}
                >
                  <Icon name="cross" />
                </button>
              ) : leftOut.has(name) ? (
                <span />
              ) : (
                <button
                  type="button"
                  className={css.rowact}
                  aria-label={`Leave out ${CORNER_LABEL[name]}: not in the picture`}
                  title="Not in the picture"
                  onClick={() => measuring.leaveOut(name, true)}
                >
                  <Icon name="hide" />
                </button>
              )}
            </li>
          );
        })}
      </ol>
      <GroundFacts calibrated={calibrated} count={now.ground.length} />
      <ChoiceGroup
        name="zoomed"
        legend="Was the clip zoomed?"
        hint={
          clip.focal35mm === null
            ? 'The file does not name its lens.'
            : `The file names a lens of ${Math.round(clip.focal35mm)} mm.`
        }
        columns="three"
        value={now.isZoomed === null ? 'unknown' : now.isZoomed ? 'yes' : 'no'}
        choices={ZOOM_CHOICES}
        onChange={(value) => change({ isZoomed: ZOOM[value] })}
      />
      <div className={css.stretches}>
        <p className="small">
          These corners hold from frame {now.fromFrame}
          {stretches.length > 1 ? `; ${stretches.length} stretches in this clip` : ' to the end of the clip'}.
        </p>
        <p className="acts">
          <button
            type="button"
            className="btn small"
            disabled={now.fromFrame === frame || now.ground.length === 0}
            onClick={() => saver.edit((before) => splitAt(before, clip.id, frame))}
          >
            The camera moved here
          </button>
          {calibration && (calibration.ground.length > 0 || calibration.fromFrame > 0) ? (
            <button
              type="button"
              className="btn quiet small"
              onClick={() => {
                setTaken(calibration);
                saver.edit((before) => removeCalibration(before, clip.id, calibration.fromFrame));
              }}
            >
              Take these corners off
            </button>
          ) : taken && taken.clipId === clip.id ? (
            <button
              type="button"
              className="btn quiet small"
              onClick={() => {
                saver.edit((before) => putCalibration(before, taken));
                setTaken(null);
              }}
            >
              Put the corners back
            </button>
          ) : null}
        </p>
      </div>
    </section>
  );
};
