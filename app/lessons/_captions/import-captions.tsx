'use client';

import { useRef, useState } from 'react';
import { Notice } from '@/app/_ui/notice';
import type { Cue } from '@/lib/domain/captions/cue';
import { MAX_VTT_CHARS } from '@/lib/domain/captions/cue';
import { parseVtt } from '@/lib/domain/captions/parse-vtt';
import { writeVtt } from '@/lib/domain/captions/write-vtt';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { CaptionsKeeper } from '@/lib/review/captions/captions-keeper';

type Props = { keeper: CaptionsKeeper; cues: readonly Cue[]; title: string };
type Told = { kind: 'done' | 'refused'; words: string; problems: readonly string[] };

/** Captions out of a WebVTT file and into one. Broken ones are named; the rest is taken. */
export const ImportCaptions = ({ keeper, cues, title }: Props) => {
  const file = useRef<HTMLInputElement>(null);
  const [told, setTold] = useState<Told | null>(null);
  const take = async (chosen: File) => {
    try {
      if (chosen.size > 4 * MAX_VTT_CHARS)
        throw new CagepostError('too-large', 'This file is too long for captions. Nothing was changed.');
      const { cues: read, problems } = parseVtt(await chosen.text());
      if (read.length === 0)
        throw new CagepostError(
          'invalid',
          'There are no captions in this file. Yours were left as they are.',
        );
      if (!keeper.edit(() => read)) return;
      setTold({
        kind: 'done',
        words: `${read.length} captions taken from ${chosen.name}. “Take back” brings yours again.`,
        problems: problems.map(({ line, sentence }) => `Line ${line}: ${sentence}`),
      });
    } catch (error) {
      setTold({
        kind: 'refused',
        words:
          error instanceof CagepostError
            ? error.forPeople
            : 'This file could not be read. Yours were left as they are.',
        problems: [],
      });
    }
  };
  const keep = () => {
    const address = URL.createObjectURL(new Blob([writeVtt(cues)], { type: 'text/vtt' }));
    const link = document.createElement('a');
    link.href = address;
    link.download = `${title.replace(/[^\w -]+/g, '').trim() || 'captions'}.vtt`;
    link.click();
    // Once the browser has taken it.
    setTimeout(() => URL.revokeObjectURL(address), 10_000);
  };
  return (
    <>
      <button type="button" className="btn small" onClick={() => file.current?.click()}>
        Take captions from a file
      </button>
      <input
        ref={file}
        type="file"
        accept=".vtt,text/vtt"
        hidden
        aria-label="A file of captions, WebVTT"
        onChange={(event) => {
          const [chosen] = event.target.files ?? [];
          if (chosen) void take(chosen);
          event.target.value = '';
        }}
      />
      <button type="button" className="btn small" disabled={cues.length === 0} onClick={keep}>
        Keep them as a file
      </button>
      {told ? (
        <Notice kind={told.kind}>
          <p>{told.words}</p>
          {told.problems.length > 0 ? (
            <ul className="small">
              {told.problems.map((problem) => (
                <li key={problem}>{problem}</li>
              ))}
            </ul>
          ) : null}
        </Notice>
      ) : null}
    </>
  );
};
