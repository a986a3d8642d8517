import Form from 'next/form';
import Link from 'next/link';
import type { DeskFilter } from '@/lib/data/desk.read';
import css from './desk.module.css';

const NAMES = [
  ['mine', 'Mine'],
  ['open', 'Nobody’s yet'],
  ['all', 'Everyone’s'],
  ['care', 'Needs care'],
  ['returned', 'Returned this week'],
] as const satisfies readonly (readonly [DeskFilter, string])[];

type Props = { current: DeskFilter; counts: Record<DeskFilter, number>; find: string };

/** The filters of the desk with how many each holds, and the search. All of it stands in the address. */
export const DeskTabs = ({ current, counts, find }: Props) => (
  <div className={css.tabs}>
    <nav aria-label="Which lessons">
      {NAMES.map(([filter, name]) => (
        <Link
          key={filter}
          href={`/desk?show=${filter}`}
          aria-current={filter === current ? 'page' : undefined}
        >
          {name} <span className="num soft">{counts[filter]}</span>
        </Link>
      ))}
    </nav>
    <Form action="/desk" role="search">
      <input type="hidden" name="show" value={current} />
      <input
        className="write"
        type="search"
        name="find"
        defaultValue={find}
        aria-label="Find a player or a question"
        placeholder="Find a player or a question"
      />
    </Form>
  </div>
);
