'use client';

import { useRouter } from 'next/navigation';
import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import { endCalendar, makeCalendar } from '../calendar-actions';
import { OneButton } from './one-button';

/** Makes the address of one's calendar, shows it this once, replaces or ends it. */
export const CalendarForm = ({ isOpen }: { isOpen: boolean }) => {
  const router = useRouter();
  const { isBusy, answer, refused, submit } = useFormAction(makeCalendar, () => router.refresh());
  return (
    <div className="stack">
      <p>
        {isOpen
          ? 'Your promised times can be read by a secret address in a calendar program.'
          : 'Your calendar program can show when answers are promised. It reads them by a secret address.'}
      </p>
      <p className="small soft">
        Calendars are often copied to other services, so players stand in it with their initials only. Whoever
        has the address can read it: replace it if it got into other hands.
      </p>
      {refused && <Notice kind="refused">{refused}</Notice>}
      {answer?.ok && isOpen && (
        <Notice kind="done" title="Copy it now">
          <p>It is shown this once. Add it to your calendar program as a calendar from the web.</p>
          <TextField
            label="Address of your calendar"
            value={answer.value.address}
            readOnly
            onFocus={(event) => event.currentTarget.select()}
          />
        </Notice>
      )}
      <form className="acts" onSubmit={submit}>
        <button className="btn" disabled={isBusy}>
          {isOpen ? 'Replace the address' : 'Make an address'}
        </button>
      </form>
      {isOpen && <OneButton action={endCalendar} label="End the address" />}
    </div>
  );
};
