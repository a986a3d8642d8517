'use client';

import { ContactBySound } from '@/app/lessons/_measure/contact-by-sound';
import { ItemMeasures } from '@/app/lessons/_measure/item-measures';
import { bestMeasure, type ClipMeasured } from '@/app/lessons/_measure/measured';
import { TargetForm } from '@/app/lessons/_measure/target-form';
import { Pennant } from '@/app/_ui/pennant';
import { VerdictMark } from '@/app/_ui/verdict-mark';
import { FrameStill } from '@/app/lessons/_swing/frame-still';
import {
  CHECKPOINT_NAME,
  CHECKPOINTS,
  STRIKE_KINDS,
  type Checkpoint,
} from '@/lib/domain/checkpoints/checkpoint';
import { PITCH_MODE_WORD, RESULT_WORD, zoneWords } from '@/lib/domain/lessons/words';
import { loneMeasures, measuresOfItem } from '@/lib/domain/measures/items';
import type { MeasureName } from '@/lib/domain/measures/names';
import { UNIT_OF, type Target } from '@/lib/domain/measures/target';
import { pin as putPin } from '@/lib/domain/review/edits';
import type { Sheet } from '@/lib/domain/review/sheet';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import type { Chalkboard, ChalkboardSnapshot } from '@/lib/review/input/chalkboard-state';
import type { RunCommand } from './bench-commands';
import css from './bench.module.css';
import { type BenchProps, leftToJudge, pinFor, STRIKE_WORD } from './bench-state';
import { CueList } from './cue-list';
import { DrillPanel } from './drill-panel';
import { ItemEditor } from './item-editor';
import { MarkList } from './mark-list';

type Props = BenchProps & {
  sheet: Sheet;
  saver: SheetSaver | null;
  checkpoint: Checkpoint;
  itemId: string | null;
  clipId: string | null;
  frame: number | null;
  board: Chalkboard | null;
  chalk: ChalkboardSnapshot;
  onChoose: (checkpoint: Checkpoint, itemId?: string) => void;
  onItem: (itemId: string) => void;
  onPin: (checkpoint: Checkpoint) => void;
  onUnpin: (checkpoint: Checkpoint) => void;
  measured: readonly ClipMeasured[];
  targetsNow: ReadonlyMap<MeasureName, Target>;
  /** Corners or points are being placed: their panel stands here instead. */
  isMeasuring: boolean;
  run: RunCommand;
  onGo: (clipId: string, frame: number) => void;
};

/** The swing's checkpoints in order, each with its pinned still and its items; only the chosen one is open. */
export const Spine = (props: Props) => {
  const { lesson, clips, sheet, saver, checkpoint, itemId, clipId, before } = props;
  return (
    <aside className={css.spine} aria-label="Checkpoints and items" hidden={props.isMeasuring}>
      <div className={css.ask}>
        <p className="over">{lesson.player.name} asks</p>
        <p className="asked">“{lesson.question}”</p>
        <p className="small soft">{saidWords(lesson, clips.length)}</p>
        {(lesson.painLevel ?? 0) > 0 ? (
          <Pennant>
            Pain {lesson.painLevel}, {lesson.painWhere}. No drills; a clinician looks first
          </Pennant>
        ) : null}
        {props.closed ? <Pennant>{props.closed}</Pennant> : null}
        {before ? (
          <p className="small">
            <b>Lesson {before.number}:</b> {before.fixFirst}
          </p>
        ) : null}
      </div>
      <ol>
        {CHECKPOINTS.map((one) => (
          <CheckpointPart key={one} one={one} isOpen={one === checkpoint} {...props} />
        ))}
      </ol>
      <CueList sheet={sheet} saver={saver} />
      <DrillPanel
        sheet={sheet}
        saver={saver}
        drills={props.drills}
        bats={lesson.bats}
        stillGiven={props.stillGiven}
      />
      <span className="sr" aria-live="polite">
        {itemId && clipId ? lesson.checklist.find((item) => item.id === itemId)?.title : ''}
      </span>
    </aside>
  );
};

const CheckpointPart = ({ one, isOpen, ...props }: Props & { one: Checkpoint; isOpen: boolean }) => {
  const { lesson, clips, sheet, saver, itemId, clipId, frame, board, chalk, before } = props;
  const items = lesson.checklist.filter((item) => item.checkpoint === one);
  const left = leftToJudge(
    sheet,
    items.map((item) => item.id),
  );
  const pin = pinFor(sheet, one, clipId);
  const clip = clips.find((c) => c.id === pin?.clipId);
  const here = clips.find((c) => c.id === clipId);
  const table = clipId ? props.tables[clipId] : undefined;
  return (
    <li className={[css.cp, isOpen ? css.now : '', left > 0 ? css.part : ''].filter(Boolean).join(' ')}>
      <h2>
        <button
          type="button"
          className={css.cphead}
          aria-expanded={isOpen}
          onClick={() => props.onChoose(one)}
        >
          {clip && pin ? (
            <FrameStill clip={clip} frame={pin.frame} alt="" fit="hitter" className={css.thumb} />
          ) : (
            <span className={`${css.thumb} ${css.nothumb}`} />
          )}
          <span className={css.cpname}>{CHECKPOINT_NAME[one]}</span>
          <span className={`small soft ${css.cpt}`}>
            {pin ? `frame ${pin.frame}${pin.strike ? `, ${STRIKE_WORD[pin.strike]}` : ''}` : 'not pinned yet'}
          </span>
          <span className={css.cpv}>
            {isOpen ? (
              left > 0 && <VerdictMark verdict={null} word={`${left} to judge`} />
            ) : left === items.length ? (
              <VerdictMark verdict={null} />
            ) : (
              items
                .flatMap((item) => sheet.answers.filter((a) => a.itemId === item.id && a.verdict !== null))
                .slice(0, 3)
                .map((a) => <VerdictMark key={a.itemId} verdict={a.verdict} />)
            )}
          </span>
        </button>
      </h2>
      {isOpen ? (
        <div className={css.open}>
          <p className="acts">
            <button
              type="button"
              className="btn small"
              onClick={() => props.onPin(one)}
              disabled={frame === null || !saver}
            >
              {pin?.clipId === clipId && pin?.frame === frame
                ? 'Pinned here'
                : `Pin frame ${frame ?? ''} here`}
            </button>
            {pin && pin.clipId === clipId ? (
              <button type="button" className="btn quiet small" onClick={() => props.onUnpin(one)}>
                Take the pin out
              </button>
            ) : null}
            {one === 'foot_strike' && pin && saver ? (
              <select
                className={css.strike}
                aria-label="Kind of foot strike"
                value={pin.strike ?? 'full_plant'}
                onChange={(event) => {
                  const strike = STRIKE_KINDS.find((kind) => kind === event.target.value) ?? null;
                  saver.edit((sheet) => putPin(sheet, { ...pin, strike }));
                }}
              >
                {STRIKE_KINDS.map((kind) => (
                  <option key={kind} value={kind}>
                    {STRIKE_WORD[kind]}
                  </option>
                ))}
              </select>
            ) : null}
          </p>
          {items.map((item) => (
            <ItemEditor
              key={item.id}
              item={item}
              isChosen={item.id === itemId}
              view={clips.find((c) => c.id === clipId)?.view ?? null}
              sheet={sheet}
              saver={saver}
              before={before?.sheet.answers.find((a) => a.itemId === item.id)?.verdict ?? null}
              beforeNumber={before?.number ?? null}
              place={frame !== null && clipId ? { clipId, frame } : null}
              playerName={lesson.player.name}
              onChoose={() => props.onItem(item.id)}
            >
              <SpineMeasures names={measuresOfItem(item.id)} isOpen={item.id === itemId} {...props} />
            </ItemEditor>
          ))}
          {one === 'contact' && here && table ? (
            <ContactBySound
              key={here.id}
              clip={here}
              table={table}
              pinned={pin?.clipId === here.id ? pin.frame : null}
              onGo={(to) => props.onGo(here.id, to)}
            />
          ) : null}
          <SpineMeasures names={loneMeasures(one, lesson.checklist)} isOpen {...props} />
          <MarkList
            board={board}
            chalk={chalk}
            clip={clips.find((c) => c.id === clipId) ?? null}
            checklist={lesson.checklist}
          />
        </div>
      ) : null}
    </li>
  );
};

/** The measures of an item or a checkpoint. Refusals are worth a line only where somebody looks. */
const SpineMeasures = ({
  names,
  isOpen,
  ...props
}: Props & { names: readonly MeasureName[]; isOpen: boolean }) => {
  const { measured, targetsNow, clipId, lesson, now, timeZone, run, sheet } = props;
  const isBegun = sheet.joints.length > 0 || sheet.calibrations.length > 0;
  const isTimed = names.some((name) => UNIT_OF[name] === 'ms');
  if (names.length === 0 || measured.length === 0) return null;
  if (!isBegun && !isTimed) {
    return isOpen ? (
      <p className={`small ${css.wide}`}>
        <button type="button" className="linklike" onClick={() => run('ground')}>
          Measure it: set the ground first
        </button>
      </p>
    ) : null;
  }
  const worth = isOpen
    ? names
    : names.filter((name) => bestMeasure(name, measured, clipId)?.measure.status !== 'refused');
  return (
    <ItemMeasures
      names={worth}
      measured={measured}
      clipId={clipId}
      targets={targetsNow}
      now={now}
      timeZone={timeZone}
    >
      {(name) =>
        isOpen ? (
          <TargetForm measure={name} target={targetsNow.get(name) ?? null} player={lesson.player} />
        ) : null
      }
    </ItemMeasures>
  );
};

const saidWords = (lesson: BenchProps['lesson'], clipCount: number) => {
  const zone = lesson.pitchZone === null ? null : zoneWords(lesson.pitchZone, lesson.bats);
  const said = [
    lesson.pitchMode ? PITCH_MODE_WORD[lesson.pitchMode] : null,
    zone ? `${zone.height.toLowerCase()}, ${zone.side}` : null,
    lesson.result ? RESULT_WORD[lesson.result] : null,
    lesson.painLevel === 0 ? 'no pain' : null,
    clipCount === 1 ? 'one clip' : `${clipCount} clips`,
  ].filter((one) => one !== null);
  const [first = '', ...rest] = said;
  return `${first[0]?.toUpperCase() ?? ''}${first.slice(1)}${rest.length > 0 ? `, ${rest.join(', ')}` : ''}.`;
};
