import Form from 'next/form';
import Link from 'next/link';
import { SelectField, TextField } from '@/app/_ui/field';
import { Icon } from '@/app/_ui/icon';
import { deskAddress, narrowedBy, type DeskQuery } from '@/lib/domain/desk/desk-query';
import type { PersonRef } from '@/lib/domain/lessons/lesson';
import css from './desk.module.css';

type Props = { query: DeskQuery; coaches: PersonRef[] };

/** What narrows the list, folded away: a form whose answer is the address. */
export const NarrowForm = ({ query, coaches }: Props) => (
  <details className={css.fold}>
    <summary>Narrow the list</summary>
    <Form action="/desk" className={css.narrowForm}>
      <input type="hidden" name="show" value={query.filter} />
      {query.find ? <input type="hidden" name="find" value={query.find} /> : null}
      <SelectField label="Coach" name="coach" defaultValue={query.coachId ?? ''}>
        <option value="">Any</option>
        {coaches.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </SelectField>
      <SelectField label="State" name="state" defaultValue={query.state ?? ''}>
        <option value="">Any</option>
        <option value="submitted">Submitted</option>
        <option value="in_review">In review</option>
      </SelectField>
      <SelectField label="Players" name="players" defaultValue={query.players ?? ''}>
        <option value="">All</option>
        <option value="minors">Minors</option>
        <option value="adults">Adults</option>
      </SelectField>
      <TextField
        label="Checklist version"
        name="checklist"
        inputMode="numeric"
        pattern="[0-9]*"
        defaultValue={query.checklist ?? ''}
      />
      <SelectField label="Promise" name="overdue" defaultValue={query.isOverdue ? 'yes' : ''}>
        <option value="">Any</option>
        <option value="yes">Overdue</option>
      </SelectField>
      <SelectField label="Money" name="unpaid" defaultValue={query.isUnpaid ? 'yes' : ''}>
        <option value="">Any</option>
        <option value="yes">Not paid</option>
      </SelectField>
      <button type="submit" className="btn">
        Show these
      </button>
    </Form>
  </details>
);

/** What the list is narrowed by, each a link to the list without it. */
export const Narrowed = ({ query, coaches }: Props) => (
  <ul className={css.chips} aria-label="Shown only">
    {narrowedBy(query, coaches).map(({ words, without }) => (
      <li key={words}>
        <Link href={`/desk?${deskAddress(without)}`} aria-label={`Show without: ${words}`}>
          {words} <Icon name="cross" />
        </Link>
      </li>
    ))}
    <li>
      <Link href={`/desk?${deskAddress({ filter: query.filter })}`}>Show all</Link>
    </li>
  </ul>
);
