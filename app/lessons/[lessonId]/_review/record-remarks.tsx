'use client';

import { useEffect, useState } from 'react';
import { listRemarksAction } from '@/app/lessons/remark-actions';
import { lengthOfMs } from '@/lib/domain/breakdowns/moment-link';
import css from './record.module.css';

interface Spoken {
  id: string;
  title: string;
  durationMs: number;
}

type Props = { onPick: (remark: Spoken) => void; isOff: boolean };

/** Spoken remarks of the coach's own shelf, to be dropped in at the present moment; nothing while there are none. */
export const RemarkPick = ({ onPick, isOff }: Props) => {
  const [remarks, setRemarks] = useState<readonly Spoken[]>([]);
  useEffect(() => {
    let isHere = true;
    void listRemarksAction({}).then((answer) => {
      if (!isHere || !answer.ok) return;
      setRemarks(
        answer.value.remarks.flatMap(({ id, title, isSpoken, isStored, durationMs }) =>
          isSpoken && isStored && durationMs ? [{ id, title, durationMs }] : [],
        ),
      );
    });
    return () => {
      isHere = false;
    };
  }, []);
  if (remarks.length === 0) return null;
  return (
    <select
      className={css.pick}
      aria-label="Drop a remark in here"
      value=""
      disabled={isOff}
      onChange={(event) => {
        const remark = remarks.find((one) => one.id === event.target.value);
        if (remark) onPick(remark);
      }}
    >
      <option value="">Drop a remark in here</option>
      {remarks.map((one) => (
        <option key={one.id} value={one.id}>
          {one.title}, {lengthOfMs(one.durationMs)}
        </option>
      ))}
    </select>
  );
};
