'use client';

import { useEffect, useRef, useState } from 'react';
import { Icon } from '@/app/_ui/icon';
import { CHECKPOINT_NAME, type Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import { VIEW_WORD } from '@/lib/domain/lessons/words';
import css from './checklist.module.css';
import { LineForm } from './line-form';
import { linesAt, moveLine, newLine, type Line } from './lines';

type Props = {
  checkpoint: Checkpoint;
  lines: readonly Line[];
  openKey: string | null;
  onOpen: (key: string | null) => void;
  onChange: (lines: Line[]) => void;
};

/** The items of one checkpoint in the editor: open, move, retire, add. */
export const CheckpointLines = ({ checkpoint, lines, openKey, onOpen, onChange }: Props) => {
  const here = linesAt(lines, checkpoint);
  const [leftKey, setLeftKey] = useState<string | null>(null);
  const name = CHECKPOINT_NAME[checkpoint];
  const add = () => {
    const line = newLine(checkpoint);
    onChange([...lines, line]);
    onOpen(line.key);
  };
  return (
    <section aria-label={name} className="stack tight">
      <h3>{name}</h3>
      {here.length === 0 ? <p className="soft">Nothing is judged here.</p> : null}
      <ul className={here.length > 0 ? 'ruled' : undefined}>
        {here.map((line, index) => (
          <li key={line.key}>
            {line.key === openKey ? (
              <LineForm
                line={line}
                onChange={(next) => onChange(lines.map((one) => (one.key === line.key ? next : one)))}
                onDone={() => {
                  setLeftKey(line.key);
                  onOpen(null);
                }}
              />
            ) : (
              <LineSummary
                line={line}
                takesFocus={line.key === leftKey}
                isFirst={index === 0}
                isLast={index === here.length - 1}
                onOpen={() => onOpen(line.key)}
                onMove={(by) => onChange(moveLine(lines, line.key, by))}
                onRetire={() => onChange(lines.filter((one) => one.key !== line.key))}
              />
            )}
          </li>
        ))}
      </ul>
      <p>
        <button type="button" className="btn small" onClick={add}>
          <Icon name="plus" /> Add an item<span className="sr"> at {name}</span>
        </button>
      </p>
    </section>
  );
};

type SummaryProps = {
  line: Line;
  /** True when its form was just closed: whoever works with the keyboard goes on here. */
  takesFocus: boolean;
  isFirst: boolean;
  isLast: boolean;
  onOpen: () => void;
  onMove: (by: -1 | 1) => void;
  onRetire: () => void;
};

const LineSummary = ({ line, takesFocus, isFirst, isLast, onOpen, onMove, onRetire }: SummaryProps) => {
  const change = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (takesFocus) change.current?.focus();
  }, [takesFocus]);
  const name = line.title || 'Item without a name';
  return (
    <div className={css.line}>
      <div>
        <b>{name}</b>
        <p className="small soft">
          Judged from {line.views.map((view) => VIEW_WORD[view].toLowerCase()).join(', ') || 'nowhere yet'}.
        </p>
      </div>
      <p className="acts">
        <button type="button" className="btn bare" aria-disabled={isFirst} onClick={() => onMove(-1)}>
          <Icon name="up" />
          <span className="sr">Move {name} up</span>
        </button>
        <button type="button" className="btn bare" aria-disabled={isLast} onClick={() => onMove(1)}>
          <Icon name="down" />
          <span className="sr">Move {name} down</span>
        </button>
        <button type="button" className="btn small" ref={change} onClick={onOpen}>
          Change<span className="sr"> {name}</span>
        </button>
        <button type="button" className="btn quiet small" onClick={onRetire}>
          {line.id ? 'Retire' : 'Remove'}
          <span className="sr"> {name}</span>
        </button>
      </p>
    </div>
  );
};
