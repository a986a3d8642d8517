'use client';

import type { ReactNode } from 'react';
import { VerdictMark, VerdictShape } from '@/app/_ui/verdict-mark';
import { VERDICTS, type Verdict } from '@/lib/domain/checkpoints/checkpoint';
import type { ChecklistItem } from '@/lib/domain/checkpoints/checklist';
import type { ClipView } from '@/lib/domain/clips/clip';
import { VERDICT_WORD, VIEW_WORD } from '@/lib/domain/lessons/words';
import { answer, answerOf, setFixFirst } from '@/lib/domain/review/edits';
import type { Sheet } from '@/lib/domain/review/sheet';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import { WrittenRemarks } from '@/app/remarks/_remarks/written-remarks';
import css from './bench.module.css';

type Props = {
  item: ChecklistItem;
  isChosen: boolean;
  view: ClipView | null;
  sheet: Sheet;
  saver: SheetSaver | null;
  /** Its verdict in the lesson that this one follows. */
  before: Verdict | null;
  beforeNumber: number | null;
  /** The frame on the stage. */
  place: { clipId: string; frame: number } | null;
  playerName: string;
  onChoose: () => void;
  /** The measures that belong to it. */
  children?: ReactNode;
};

const MOST_NOTE = 1000;

/** A remark under what stands there already; cut where the note is full. */
const withRemark = (note: string, text: string): string =>
  (note.trim() === '' ? text : `${note.trimEnd()}\n${text}`).slice(0, MOST_NOTE);

/** One checklist item. Closed it is one line; chosen it shows its four verdicts, its note, and whether it is the fix first. */
export const ItemEditor = ({
  item,
  isChosen,
  view,
  sheet,
  saver,
  before,
  beforeNumber,
  place,
  playerName,
  onChoose,
  children,
}: Props) => {
  const given = answerOf(sheet, item.id);
  const isFix = sheet.fixFirst?.itemId === item.id;
  const canBeSeen = view === null || item.views.includes(view);
  const judge = (verdict: Verdict) =>
    saver?.edit((all) =>
      answer(all, item.id, { verdict, clipId: place?.clipId ?? null, frame: place?.frame ?? null }),
    );
  const head = (
    <>
      <button type="button" className={css.itemname} aria-expanded={isChosen} onClick={onChoose}>
        {item.title}
      </button>
      {isFix ? (
        <span className={css.fix}>fix first</span>
      ) : isChosen ? null : (
        <VerdictMark verdict={given.verdict} />
      )}
    </>
  );
  if (!isChosen)
    return (
      <div className={css.item}>
        {head}
        {children}
      </div>
    );
  return (
    <div className={`${css.item} ${css.on}`}>
      {head}
      <p className={`small soft ${css.wide}`}>
        {item.lookFor} {item.standing}.
      </p>
      {canBeSeen ? null : (
        <p className={`small ${css.wide}`}>
          Better judged from {item.views.map((one) => VIEW_WORD[one].toLowerCase()).join(' or ')}.
        </p>
      )}
      {before && beforeNumber !== null ? (
        <p className={`small ${css.wide}`}>
          Lesson {beforeNumber}: <VerdictMark verdict={before} />
        </p>
      ) : null}
      {children}
      <fieldset className={css.verdicts}>
        <legend className="sr">Verdict for {item.title}</legend>
        {VERDICTS.map((verdict) => (
          <label key={verdict} className={css.verdict}>
            <input
              type="radio"
              name={`verdict-${item.id}`}
              checked={given.verdict === verdict}
              onChange={() => judge(verdict)}
            />
            <span>
              <VerdictShape verdict={verdict} /> {VERDICT_WORD[verdict]}
            </span>
          </label>
        ))}
      </fieldset>
      <label className={css.note}>
        <span className="over">What {playerName} reads here</span>
        <textarea
          className="write"
          rows={2}
          maxLength={MOST_NOTE}
          data-note
          value={given.note}
          onChange={(event) => saver?.edit((all) => answer(all, item.id, { note: event.target.value }))}
        />
      </label>
      <p className={css.wide}>
        <WrittenRemarks
          into={`the note of ${item.title}`}
          onPick={(text) =>
            saver?.edit((all) =>
              answer(all, item.id, { note: withRemark(answerOf(all, item.id).note, text) }),
            )
          }
        />
      </p>
      {isFix ? (
        <label className={css.note}>
          <span className="over">Fix first, in one sentence</span>
          <textarea
            className={`write ${css.sentence}`}
            rows={2}
            maxLength={160}
            value={sheet.fixFirst?.sentence ?? ''}
            onChange={(event) =>
              saver?.edit((all) => setFixFirst(all, { itemId: item.id, sentence: event.target.value }))
            }
          />
        </label>
      ) : null}
      <p className={css.wide}>
        <button
          type="button"
          className="btn small"
          aria-pressed={isFix}
          onClick={() =>
            saver?.edit((all) =>
              setFixFirst(
                all,
                isFix
                  ? null
                  : { itemId: item.id, sentence: all.fixFirst?.sentence || given.note.slice(0, 160) },
              ),
            )
          }
        >
          {isFix ? 'Not the fix first after all' : 'Fix this first'}
        </button>
      </p>
    </div>
  );
};
