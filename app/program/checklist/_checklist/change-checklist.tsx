'use client';

import { useState } from 'react';
import { Notice } from '@/app/_ui/notice';
import type { Checklist, ChecklistItem } from '@/lib/domain/checkpoints/checklist';
import { ChecklistEditor } from './checklist-editor';
import { ItemList } from './item-list';
import { lineOf, readDraft, type Draft } from './lines';

type Props = {
  newest: { number: number; items: Checklist; by: string | null };
  retired: readonly ChecklistItem[];
};

/** The present version to read, and the way into the editor. */
export const ChangeChecklist = ({ newest, retired }: Props) => {
  const [start, setStart] = useState<Draft | null>(null);
  const [saved, setSaved] = useState<number | null>(null);
  const [isFound, setFound] = useState(false);
  const open = () => {
    const kept = readDraft();
    setFound(kept !== null);
    setSaved(null);
    setStart(kept ?? { base: newest, lines: newest.items.map(lineOf) });
  };
  if (start) {
    return (
      <div className="stack">
        {isFound ? (
          <Notice kind="info">What you wrote here before and did not save is still there.</Notice>
        ) : null}
        <ChecklistEditor
          newest={newest}
          retired={retired}
          start={start}
          onDone={(number) => {
            setStart(null);
            setSaved(number);
          }}
        />
      </div>
    );
  }
  return (
    <div className="stack">
      {saved === null ? null : (
        <Notice kind="done">
          Version {saved} is saved. It holds for lessons that are begun from now on.
        </Notice>
      )}
      <p>
        <button type="button" className="btn do" onClick={open}>
          Change the checklist
        </button>
      </p>
      <ItemList items={newest.items} />
    </div>
  );
};
