'use client';

import Link from 'next/link';
import { useState } from 'react';
import { VerdictMark } from '@/app/_ui/verdict-mark';
import { FrameMeasures } from '@/app/lessons/_measure/frame-measures';
import { ItemMeasures } from '@/app/lessons/_measure/item-measures';
import { bestMeasure, type ClipMeasured } from '@/app/lessons/_measure/measured';
import type { When } from '@/app/lessons/_measure/measure-lines';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { FrameStill } from '@/app/lessons/_swing/frame-still';
import { FrameViewer } from '@/app/lessons/_swing/frame-viewer';
import { CHECKPOINT_NAME, CHECKPOINTS, type Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import type { Hand } from '@/lib/domain/lessons/state';
import { loneMeasures, measuresOfItem } from '@/lib/domain/measures/items';
import type { MeasureName } from '@/lib/domain/measures/names';
import type { Target } from '@/lib/domain/measures/target';
import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import { VIEW_WORD } from '@/lib/domain/lessons/words';
import { describeMark } from '@/lib/domain/marks/describe';
import type { Sheet } from '@/lib/domain/review/sheet';
import { furthestFromSet } from '@/lib/domain/threads/progress';
import css from './lesson.module.css';

type Props = When & {
  sheet: Sheet;
  checklist: Checklist;
  clips: readonly ClipOnPage[];
  /** The numbers of each clip, made from the points on the sheet. */
  measured: readonly ClipMeasured[];
  targets: ReadonlyMap<MeasureName, Target>;
  bats: Hand | null;
  /** There is another swing that this one can stand beside. */
  canCompare?: boolean;
  /** Read by the player's side. */
  isPlayers?: boolean;
};

/** The checkpoints as a row of stills with their verdicts; one is open below, with its frame, marks and notes. */
export const SwingSection = ({
  sheet,
  checklist,
  clips,
  measured,
  targets,
  bats,
  canCompare = false,
  isPlayers = true,
  ...when
}: Props) => {
  const pinned = CHECKPOINTS.flatMap((checkpoint) => {
    const pin = sheet.pins.find((one) => one.checkpoint === checkpoint);
    const clip = pin && clips.find((one) => one.id === pin.clipId && one.state === 'ready');
    return pin && clip ? [{ checkpoint, pin, clip }] : [];
  });
  const fixAt = checklist.find((item) => item.id === sheet.fixFirst?.itemId)?.checkpoint;
  const [chosen, setChosen] = useState<Checkpoint | null>(fixAt ?? pinned[0]?.checkpoint ?? null);
  const open = pinned.find((one) => one.checkpoint === chosen);
  const itemsOf = (checkpoint: Checkpoint) =>
    checklist
      .filter((item) => item.checkpoint === checkpoint)
      .map((item) => ({ item, answer: sheet.answers.find((one) => one.itemId === item.id) }));

  // What nobody tried to measure needs no refusal.
  const isBegun = sheet.calibrations.length > 0 || sheet.joints.length > 0;
  const isWorth = (name: MeasureName) =>
    isBegun || bestMeasure(name, measured, open?.clip.id ?? null)?.measure.status !== 'refused';
  const numbers = { measured, targets, isPlayers, clipId: open?.clip.id ?? null, ...when };
  const others = clips.filter(
    (clip) => clip.state === 'ready' && !pinned.some((one) => one.clip.id === clip.id),
  );
  return (
    <>
      <div className={css.stills} role="group" aria-label="Checkpoints">
        {pinned.map(({ checkpoint, pin, clip }) => (
          <button
            key={checkpoint}
            type="button"
            className={css.tile}
            aria-pressed={checkpoint === chosen}
            onClick={() => setChosen(checkpoint)}
          >
            <FrameStill
              clip={clip}
              frame={pin.frame}
              alt={`${CHECKPOINT_NAME[checkpoint]}, frame ${pin.frame}`}
              fit="hitter"
              className={css.tilepic}
            />
            <span className={css.tilename}>{CHECKPOINT_NAME[checkpoint]}</span>
            <VerdictMark
              verdict={furthestFromSet(itemsOf(checkpoint).map(({ answer }) => answer?.verdict ?? null))}
            />
          </button>
        ))}
      </div>
      {open ? (
        <div className={css.panel}>
          <div className="bleed">
            <FrameViewer
              clip={open.clip}
              frame={open.pin.frame}
              marks={sheet.marks}
              over={(frame, size) => (
                <FrameMeasures
                  sheet={sheet}
                  clipId={open.clip.id}
                  frame={frame}
                  measured={measured}
                  targets={targets}
                  bats={bats}
                  size={size}
                />
              )}
            />
          </div>
          <h3>
            {CHECKPOINT_NAME[open.checkpoint]}{' '}
            <span className="small soft">
              frame {open.pin.frame}
              {open.clip.view ? `, ${VIEW_WORD[open.clip.view].toLowerCase()}` : ''}
            </span>
          </h3>
          {canCompare ? (
            <p>
              <Link href={`/compare?b=${open.clip.id}&at=${open.checkpoint}`}>Beside an earlier swing</Link>
            </p>
          ) : null}
          <Marks
            marks={sheet.marks.filter(
              (mark) => !mark.hidden && mark.clipId === open.clip.id && mark.frame === open.pin.frame,
            )}
            clip={open.clip}
            checklist={checklist}
          />
          <ul className={css.items}>
            {itemsOf(open.checkpoint).map(({ item, answer }) => (
              <li key={item.id}>
                <div>
                  <b>{item.title}</b>
                  {item.id === sheet.fixFirst?.itemId ? <span className={css.first}>fix first</span> : null}
                  {answer?.note ? <p>{answer.note}</p> : null}
                  <ItemMeasures names={measuresOfItem(item.id).filter(isWorth)} {...numbers} />
                  <details>
                    <summary className="small">What to look for</summary>
                    <p className="small">
                      {item.lookFor} <span className="soft">{item.standing}.</span>
                    </p>
                  </details>
                </div>
                <VerdictMark
                  verdict={answer?.verdict ?? null}
                  word={answer?.verdict ? undefined : 'not judged this time'}
                />
              </li>
            ))}
          </ul>
          <ItemMeasures names={loneMeasures(open.checkpoint, checklist).filter(isWorth)} {...numbers} />
        </div>
      ) : null}
      {others.map((clip) => (
        <div key={clip.id} className={css.panel}>
          <h3>{clip.view ? VIEW_WORD[clip.view] : 'Another clip'}</h3>
          <div className="bleed">
            <FrameViewer clip={clip} frame={0} marks={sheet.marks} />
          </div>
        </div>
      ))}
    </>
  );
};

const Marks = ({
  marks,
  clip,
  checklist,
}: {
  marks: Sheet['marks'];
  clip: ClipOnPage;
  checklist: Checklist;
}) =>
  marks.length === 0 ? null : (
    <ul className="small soft" aria-label="Drawn on this frame">
      {marks.map((mark) => (
        <li key={mark.id}>
          {describeMark(
            mark,
            { width: clip.width ?? 16, height: clip.height ?? 9 },
            checklist.find((item) => item.id === mark.itemId)?.title ?? null,
          )}
        </li>
      ))}
    </ul>
  );
