'use client';

import Link from 'next/link';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { listRemarksAction } from '@/app/lessons/remark-actions';
import css from './remarks.module.css';

type Written = { id: string; title: string; text: string };

type Props = {
  /** What it is put into, for those who hear it: "the note of Hands go back". */
  into: string;
  onPick: (text: string) => void;
};

/** Written remarks of the coach's own shelf, to be put in here; loaded when first asked for. */
export const WrittenRemarks = ({ into, onPick }: Props) => {
  const [remarks, setRemarks] = useState<readonly Written[] | null>(null);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const load = () =>
    start(async () => {
      const answer = await answerOf(listRemarksAction({}), 'The connection is lost. Try again in a moment.');
      if (!answer.ok) return setRefusal(answer.message);
      setRefusal(null);
      setRemarks(answer.value.remarks.filter((remark) => remark.text !== ''));
    });
  if (remarks === null)
    return (
      <>
        <button type="button" className="btn quiet small" disabled={isBusy} onClick={load}>
          Put in a remark
        </button>
        {refusal ? <span role="alert">{refusal}</span> : null}
      </>
    );
  if (remarks.length === 0)
    return (
      <span className="small soft">
        No written remarks yet. <Link href="/remarks">To your shelf</Link>
      </span>
    );
  return (
    <select
      className={`write ${css.pick}`}
      aria-label={`Put a remark into ${into}`}
      value=""
      onChange={(event) => {
        const remark = remarks.find((one) => one.id === event.target.value);
        if (remark) onPick(remark.text);
      }}
    >
      <option value="">Which remark?</option>
      {remarks.map((one) => (
        <option key={one.id} value={one.id}>
          {one.title}
        </option>
      ))}
    </select>
  );
};
