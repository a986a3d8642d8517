'use client';

import { useRouter } from 'next/navigation';
import { useEffect, useState, useTransition } from 'react';
import { Notice } from '@/app/_ui/notice';
import type { Checklist, ChecklistItem } from '@/lib/domain/checkpoints/checklist';
import { CHECKPOINTS } from '@/lib/domain/checkpoints/checkpoint';
import { joinLines } from '@/lib/domain/checkpoints/join-lines';
import { checklistLinesSchema, versionChanges } from '@/lib/domain/checkpoints/versions';
import { saveChecklistAction } from '../actions';
import { CheckpointLines } from './checkpoint-lines';
import { asChecklist, keepDraft, lineOf, type Draft, type Line } from './lines';

type Props = {
  newest: { number: number; items: Checklist; by: string | null };
  retired: readonly ChecklistItem[];
  /** What was written here before and not saved, or the newest version. */
  start: Draft;
  onDone: (number: number | null) => void;
};

/** Writes the next version of the checklist. What is written stays on this device until it is saved or left. */
export const ChecklistEditor = ({ newest, retired, start, onDone }: Props) => {
  const [draft, setDraft] = useState(start);
  const [openKey, setOpenKey] = useState<string | null>(null);
  const [id] = useState(() => crypto.randomUUID());
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, begin] = useTransition();
  const router = useRouter();
  const { base, lines } = draft;
  const changes = versionChanges(base.items, asChecklist(lines));
  const isDirty = changes.length > 0;
  useEffect(() => keepDraft(isDirty ? draft : null), [draft, isDirty]);

  const setLines = (next: Line[]) => setDraft({ ...draft, lines: next });
  const startFrom = (next: Line[]) => {
    setDraft({ base: newest, lines: next });
    setOpenKey(null);
    setRefusal(null);
  };
  const join = () =>
    startFrom(
      joinLines(base.items, lines, newest.items).map((line) =>
        'key' in line ? (line as Line) : lineOf(line),
      ),
    );
  const leave = () => {
    keepDraft(null);
    onDone(null);
  };
  const save = () => {
    const parsed = checklistLinesSchema.safeParse(lines);
    if (!parsed.success) {
      const at = parsed.error.issues[0]?.path[0];
      if (typeof at === 'number') setOpenKey(lines[at]?.key ?? null);
      return setRefusal(`${parsed.error.issues[0]?.message ?? 'Something does not fit.'} Nothing was saved.`);
    }
    begin(async () => {
      const answer = await saveChecklistAction({ id, from: base.number, lines: parsed.data }).catch(
        () => null,
      );
      if (!answer?.ok) {
        setRefusal(answer?.message ?? 'This did not reach us. What you wrote is kept here; press again.');
        return router.refresh();
      }
      keepDraft(null);
      onDone(answer.value.number);
      router.refresh();
    });
  };
  const there = new Set(lines.map((line) => line.id));
  const backable = [...base.items, ...retired].filter((item) => !there.has(item.id));
  const isBehind = newest.number !== base.number;
  return (
    <form
      className="stack"
      aria-label="The next version of the checklist"
      onSubmit={(event) => {
        event.preventDefault();
        save();
      }}
    >
      {CHECKPOINTS.map((checkpoint) => (
        <CheckpointLines
          key={checkpoint}
          checkpoint={checkpoint}
          lines={lines}
          openKey={openKey}
          onOpen={setOpenKey}
          onChange={setLines}
        />
      ))}
      {backable.length > 0 ? (
        <section className="stack tight" aria-label="Retired">
          <h3>Retired</h3>
          <p className="small soft">Brought back, an item goes on where its earlier answers ended.</p>
          <ul className="ruled">
            {backable.map((item) => (
              <li key={item.id} className="acts">
                <span>{item.title}</span>
                <button
                  type="button"
                  className="btn small"
                  onClick={() => setLines([...lines, lineOf(item)])}
                >
                  Bring back<span className="sr"> {item.title}</span>
                </button>
              </li>
            ))}
          </ul>
        </section>
      ) : null}
      <section className="stack tight" aria-label="What changes">
        <h3>What changes</h3>
        {isDirty ? <Sentences of={changes} /> : <p className="soft">Nothing yet.</p>}
        <p className="small soft">
          Lessons sent from now on are judged by the new version. Lessons that were begun keep theirs, and
          their answers stay as they are.
        </p>
      </section>
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      {isBehind ? (
        <Notice kind="info" title={`Version ${newest.number}${newest.by ? ` by ${newest.by}` : ''}`}>
          <Sentences of={versionChanges(base.items, newest.items)} />
          <p className="acts">
            <button type="button" className="btn small" onClick={join}>
              Put mine on top of version {newest.number}
            </button>
            <button
              type="button"
              className="btn quiet small"
              onClick={() => startFrom(newest.items.map(lineOf))}
            >
              Drop mine, take version {newest.number}
            </button>
          </p>
        </Notice>
      ) : null}
      <p className="acts">
        <button type="submit" className="btn do" disabled={isBusy || !isDirty || isBehind}>
          Save as version {newest.number + 1}
        </button>
        <button type="button" className="btn quiet" onClick={leave}>
          Leave it
        </button>
      </p>
    </form>
  );
};

/** Sentences as a list. */
export const Sentences = ({ of }: { of: readonly string[] }) => (
  <ul className="small">
    {of.map((sentence) => (
      <li key={sentence}>{sentence}</li>
    ))}
  </ul>
);
