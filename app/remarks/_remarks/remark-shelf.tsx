'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Dialog } from '@/app/_ui/dialog';
import { EmptyState } from '@/app/_ui/empty-state';
import { Notice } from '@/app/_ui/notice';
import { Row } from '@/app/_ui/page-grid';
import type { RemarkOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import { removeRemarkAction } from '@/app/lessons/remark-actions';
import { lengthOfMs } from '@/lib/domain/breakdowns/moment-link';
import { HearRemark } from './hear-remark';
import { RemarkForm } from './remark-form';
import { UnsentList } from './unsent-list';
import css from './remarks.module.css';

/** The shelf: every remark with its words or voice, to be changed or taken off; and a new one. */
export const RemarkShelf = ({
  personId,
  remarks,
}: {
  personId: string;
  remarks: readonly RemarkOnPage[];
}) => {
  const [turn, setTurn] = useState(0);
  const router = useRouter();
  const [open, setOpen] = useState<RemarkOnPage | 'new' | null>(null);
  const [toRemove, setToRemove] = useState<RemarkOnPage | null>(null);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const remove = (remark: RemarkOnPage) =>
    start(async () => {
      const answer = await answerOf(
        removeRemarkAction({ seriesId: remark.seriesId }),
        'The connection is lost. Nothing was changed.',
      );
      if (!answer.ok) return setRefusal(answer.message);
      setToRemove(null);
      setRefusal(null);
      router.refresh();
    });
  return (
    <>
      <Row label="New">
        <button type="button" className="btn do" onClick={() => setOpen('new')}>
          New remark
        </button>
      </Row>
      <UnsentList personId={personId} turn={turn} onSent={() => router.refresh()} />
      <Row label="Your remarks">
        {remarks.length === 0 ? (
          <EmptyState title="Nothing here yet">
            <p>The next time you explain the same thing again, put it here.</p>
          </EmptyState>
        ) : (
          <ul className={css.shelf}>
            {remarks.map((remark) => (
              <li key={remark.seriesId}>
                <h3>
                  {remark.title}{' '}
                  <span className="small soft">
                    {remark.isSpoken ? `spoken, ${lengthOfMs(remark.durationMs ?? 0)}` : 'written'}
                    {remark.number > 1 ? `, version ${remark.number}` : ''}
                  </span>
                </h3>
                {remark.text ? <p className={css.text}>{remark.text}</p> : null}
                <p className="acts">
                  {remark.part ? <HearRemark address={remark.part} title={remark.title} /> : null}
                  {remark.isSpoken && !remark.isStored ? (
                    <span className="small">
                      Its voice has not arrived. Open this page on the device it was spoken on, or speak it
                      once more.
                    </span>
                  ) : null}
                  <button
                    type="button"
                    className="btn small"
                    aria-label={`Change ${remark.title}`}
                    onClick={() => setOpen(remark)}
                  >
                    Change
                  </button>
                  <button
                    type="button"
                    className="btn quiet small"
                    aria-label={`Take ${remark.title} off the shelf`}
                    onClick={() => setToRemove(remark)}
                  >
                    Take it off
                  </button>
                </p>
              </li>
            ))}
          </ul>
        )}
      </Row>
      {open ? (
        <RemarkForm
          personId={personId}
          remark={open === 'new' ? null : open}
          onClose={() => {
            setOpen(null);
            setTurn((before) => before + 1);
          }}
          onKept={() => {
            setOpen(null);
            router.refresh();
          }}
        />
      ) : null}
      <Dialog
        isOpen={toRemove !== null}
        onClose={() => setToRemove(null)}
        title="Take it off the shelf?"
        footer={
          <button
            type="button"
            className="btn do"
            disabled={isBusy}
            onClick={() => toRemove && remove(toRemove)}
          >
            Take it off
          </button>
        }
      >
        <p>
          “{toRemove?.title}” goes from your shelf. Where you dropped it in, in notes, captions and
          breakdowns, it stays as it is.
        </p>
        {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      </Dialog>
    </>
  );
};
