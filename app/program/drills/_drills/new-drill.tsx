'use client';

import { useRouter } from 'next/navigation';
import { useState } from 'react';
import type { DrillText } from '@/lib/domain/drills/drill';
import { DrillForm, type ItemChoice } from './drill-form';

const BLANK: DrillText = {
  title: '',
  summary: '',
  steps: [],
  stages: ['tee'],
  drawing: {
    version: 1,
    tee: { x: 0.5, y: 0 },
    frontFoot: { x: 0.6, y: 0.65 },
    backFoot: { x: -0.1, y: 0.65 },
    toward: 0,
  },
  safety: ['Three metres of clear space all round, nobody inside it, no window behind the ball.'],
  itemIds: [],
  standing: 'Common practice, no source',
};

/** Opens an empty drill to write. */
export const NewDrill = ({ items }: { items: readonly ItemChoice[] }) => {
  const router = useRouter();
  const [isWriting, setWriting] = useState(false);
  if (!isWriting) {
    return (
      <button type="button" className="btn" onClick={() => setWriting(true)}>
        Write a drill
      </button>
    );
  }
  return (
    <DrillForm
      start={BLANK}
      replaces={null}
      items={items}
      onDone={() => {
        setWriting(false);
        router.refresh();
      }}
      onCancel={() => setWriting(false)}
    />
  );
};
