'use client';

import { useState } from 'react';
import { Icon } from '@/app/_ui/icon';
import { forHand } from '@/app/practice/_practice/ground-drawing';
import { plainDose } from '@/lib/domain/drills/dose';
import { drillsFor, type Drill } from '@/lib/domain/drills/drill';
import type { Hand } from '@/lib/domain/lessons/state';
import { MAX_ASSIGNMENTS, putAssignment, removeAssignment } from '@/lib/domain/review/edits';
import { DRILLS_TO_KEEP } from '@/lib/domain/review/missing';
import type { Sheet } from '@/lib/domain/review/sheet';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import css from './bench.module.css';
import { DrillDose } from './drill-dose';

type Props = {
  sheet: Sheet;
  saver: SheetSaver | null;
  drills: readonly Drill[];
  bats: Hand | null;
  /** How many drills of earlier lessons the player still practises. */
  stillGiven: number;
};

/** The drills of this lesson: those that help the fix first are offered first, best three at most. */
export const DrillPanel = ({ sheet, saver, drills, bats, stillGiven }: Props) => {
  const itemId = sheet.fixFirst?.itemId ?? null;
  const offered = drillsFor(drills, itemId);
  const [chosenId, setChosenId] = useState<string | null>(null);
  const chosen = offered.find((drill) => String(drill.id) === chosenId) ?? offered[0];
  const given = sheet.assignments;
  const give = (drill: Drill) => {
    const [stage = 'tee'] = drill.stages;
    const tee = drill.drawing ? forHand(drill.drawing, bats).tee : null;
    saver?.edit((all) =>
      putAssignment(all, {
        id: crypto.randomUUID(),
        drillId: String(drill.id),
        dose: plainDose(stage, tee),
        cue: '',
        swingBy: null,
      }),
    );
  };
  return (
    <section className={css.cues} aria-label="Drills to practise">
      <p className={css.sub}>
        <span className="over">To practise</span>
      </p>
      {stillGiven > 0 ? (
        <p className="small">
          {stillGiven === 1 ? 'One drill' : `${stillGiven} drills`} of earlier lessons{' '}
          {stillGiven === 1 ? 'goes' : 'go'} on.{' '}
          {given.length > 0 ? 'Returning this one ends them.' : 'Giving drills here ends them.'}
        </p>
      ) : null}
      {given.length > DRILLS_TO_KEEP ? (
        <p className="small" role="status">
          {given.length} drills. Three or fewer are more likely to be done: which would you drop?
        </p>
      ) : null}
      {chosen ? (
        <p className="acts">
          <select
            className="write"
            aria-label="Drill to give"
            value={String(chosen.id)}
            onChange={(event) => setChosenId(event.target.value)}
          >
            {offered.map((drill) => (
              <option key={String(drill.id)} value={String(drill.id)}>
                {drill.title}
                {itemId && drill.itemIds.includes(itemId) ? ', helps the fix first' : ''}
                {drill.clip ? ', with a clip' : ''}
              </option>
            ))}
          </select>
          <button
            type="button"
            className="btn small"
            disabled={!saver || given.length >= MAX_ASSIGNMENTS}
            onClick={() => give(chosen)}
          >
            Give this drill
          </button>
        </p>
      ) : (
        <p className="small">
          The library has no drills yet. <a href="/program/drills">Open the drill library</a>
        </p>
      )}
      {given.map((one) => {
        const drill = drills.find(({ id }) => String(id) === one.drillId);
        const title = drill?.title ?? 'A drill that was retired or replaced';
        return (
          <details key={one.id} open>
            <summary>
              <b>{title}</b>
            </summary>
            <DrillDose
              given={one}
              drill={drill ?? null}
              bats={bats}
              onChange={(next) => saver?.edit((all) => putAssignment(all, next))}
            />
            <p className="acts">
              <button
                type="button"
                className="btn quiet small"
                onClick={() => saver?.edit((all) => removeAssignment(all, one.id))}
              >
                <Icon name="cross" /> Take it out
                <span className="sr">: {title}</span>
              </button>
            </p>
          </details>
        );
      })}
    </section>
  );
};
