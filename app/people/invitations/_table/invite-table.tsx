'use client';

import { useRouter } from 'next/navigation';
import { useId, useRef, useState, useTransition, type ChangeEvent } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { TextArea } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { COLUMN_WORD, COLUMNS } from '@/lib/domain/people/invitation-table';
import { toCsv } from '@/lib/domain/progress/csv';
import { inviteTableAction, lookAtTableAction } from '../actions';
import { textOf } from './file-text';
import { Report, type ReportRow } from './report';
import { SaveText } from './save-text';

const EMPTY = toCsv([COLUMNS.map((column) => COLUMN_WORD[column])]);
const LOST = 'This did not reach us. The table is kept here; press again.';

type Looked = { rows: ReportRow[]; ignored: string[]; isSent: boolean };

/** Inviting many people by a table: put it in, look at every row, then send. */
export const InviteTable = () => {
  const router = useRouter();
  const fileId = useId();
  const [text, setText] = useState('');
  // One batch for one text: pressing again after a lost answer invites nobody twice.
  const [batchId, setBatchId] = useState(() => crypto.randomUUID());
  const [looked, setLooked] = useState<Looked | null>(null);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const result = useRef<HTMLDivElement>(null);

  const write = (next: string) => {
    setText(next);
    setBatchId(crypto.randomUUID());
    setLooked(null);
    setRefusal(null);
  };
  const choose = async (event: ChangeEvent<HTMLInputElement>) => {
    const file = event.target.files?.[0];
    if (file) write(await textOf(file));
  };
  const ask = (isSending: boolean) =>
    start(async () => {
      const asked = isSending ? inviteTableAction({ batchId, text }) : lookAtTableAction({ text });
      const answer = await answerOf(asked, LOST);
      if (!answer.ok) return setRefusal(answer.message);
      setRefusal(null);
      setLooked({ ...answer.value, isSent: isSending });
      result.current?.focus();
      if (isSending) router.refresh();
    });
  const count = looked?.rows.filter((row) => row.outcome === 'invite').length ?? 0;
  const sent = looked?.rows.filter((row) => row.outcome === 'invited').length ?? 0;
  return (
    <div className="stack">
      <form
        className="stack read"
        onSubmit={(event) => {
          event.preventDefault();
          ask(false);
        }}
      >
        <div className="fld">
          <label htmlFor={fileId}>A file</label>
          <p className="hint" id={`${fileId}-hint`}>
            Saved as CSV by any table program.
          </p>
          <input
            id={fileId}
            aria-describedby={`${fileId}-hint`}
            className="write"
            type="file"
            accept=".csv,.tsv,.txt,text/csv,text/plain"
            onChange={(event) => void choose(event)}
          />
        </div>
        <TextArea
          label="Or paste the table"
          hint="With its heading. You can put things right here too."
          rows={8}
          value={text}
          onChange={(event) => write(event.target.value)}
        />
        {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
        <p className="acts">
          <button type="submit" className={looked ? 'btn' : 'btn do'} disabled={isBusy || text.trim() === ''}>
            Look at every row
          </button>
          <SaveText label="Save an empty table to fill" name="invitations.csv" text={EMPTY} />
        </p>
      </form>
      <div ref={result} tabIndex={-1} className="stack" aria-live="polite">
        {looked?.isSent ? (
          <Notice kind="done">
            {sent === 1 ? '1 person is invited.' : `${sent} people are invited.`} The mails leave one after
            the other.
          </Notice>
        ) : null}
        {looked && !looked.isSent ? (
          count > 0 ? (
            <p className="acts">
              <button type="button" className="btn do" disabled={isBusy} onClick={() => ask(true)}>
                {count === 1 ? 'Send 1 invitation' : `Send ${count} invitations`}
              </button>
              <span className="soft">Nothing has been sent yet.</span>
            </p>
          ) : (
            <p>There is nobody to invite in this table.</p>
          )
        ) : null}
        {looked ? <Report rows={looked.rows} ignored={looked.ignored} /> : null}
      </div>
    </div>
  );
};
