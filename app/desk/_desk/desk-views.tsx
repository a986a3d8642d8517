'use client';

import Link from 'next/link';
import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Dialog } from '@/app/_ui/dialog';
import { TextField } from '@/app/_ui/field';
import { Icon } from '@/app/_ui/icon';
import { Notice } from '@/app/_ui/notice';
import { keepDeskViewAction, removeDeskViewAction } from '../actions';
import css from './desk.module.css';

type Props = {
  views: { id: string; name: string; query: string }[];
  /** What stands on the desk now, as the address says it, and whether it is worth a name. */
  query: string;
  canKeep: boolean;
};

/** The coach's own named views of the desk: links, and the way to add and to remove one. */
export const DeskViews = ({ views, query, canKeep }: Props) => {
  const [isOpen, setOpen] = useState(false);
  const [name, setName] = useState('');
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  const isKept = views.some((view) => view.query === query);

  const keep = () =>
    start(async () => {
      const answer = await answerOf(keepDeskViewAction({ name, query }));
      if (!answer.ok) return setRefusal(answer.message);
      setOpen(false);
      setName('');
      setRefusal(null);
      router.refresh();
    });
  const remove = (id: string) =>
    start(async () => {
      const answer = await answerOf(removeDeskViewAction({ id }));
      setRefusal(answer.ok ? null : answer.message);
      router.refresh();
    });

  if (views.length === 0 && !canKeep) return null;
  return (
    <div className={css.views}>
      {views.length > 0 ? (
        <ul className={css.chips} aria-label="Your own lists">
          {views.map((view) => (
            <li key={view.id}>
              <Link
                href={`/desk?${view.query}`}
                aria-current={view.query === query ? 'page' : undefined}
                className={css.view}
              >
                {view.name}
              </Link>
              <button
                type="button"
                className="btn bare"
                aria-label={`Remove the list ${view.name}`}
                disabled={isBusy}
                onClick={() => remove(view.id)}
              >
                <Icon name="cross" />
              </button>
            </li>
          ))}
        </ul>
      ) : null}
      {canKeep && !isKept ? (
        <button type="button" className="linklike" onClick={() => setOpen(true)}>
          Keep this list under a name
        </button>
      ) : null}
      {refusal && !isOpen ? <Notice kind="refused">{refusal}</Notice> : null}
      <Dialog
        isOpen={isOpen}
        onClose={() => setOpen(false)}
        title="Keep this list"
        footer={
          <button type="button" className="btn do" onClick={keep} disabled={isBusy}>
            Keep it
          </button>
        }
      >
        <div className="stack">
          <TextField
            label="Name"
            hint="It becomes a link on your desk. The same name again replaces the list."
            maxLength={40}
            value={name}
            onChange={(event) => setName(event.target.value)}
          />
          {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
        </div>
      </Dialog>
    </div>
  );
};
