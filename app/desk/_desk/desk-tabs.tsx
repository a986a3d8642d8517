import Form from 'next/form';
import Link from 'next/link';
import {
  DESK_FILTERS,
  MOST_COUNTED,
  deskAddress,
  type DeskFilter,
  type DeskQuery,
} from '@/lib/domain/desk/desk-query';
import css from './desk.module.css';

const NAMES = {
  mine: 'Mine',
  open: 'Nobody’s yet',
  all: 'Everyone’s',
  care: 'Needs care',
  returned: 'Returned this week',
} as const satisfies Record<DeskFilter, string>;

const countWords = (count: number) => (count >= MOST_COUNTED ? `${MOST_COUNTED}+` : count);

type Props = {
  query: DeskQuery;
  counts: Record<DeskFilter, number>;
};

/** The lists of the desk with how many each holds, and the search. Both stand in the address. */
export const DeskTabs = ({ query, counts }: Props) => {
  return (
    <div className={css.tabs}>
      <nav aria-label="Which lessons">
        {DESK_FILTERS.map((filter) => (
          <Link
            key={filter}
            href={`/desk?${deskAddress({ filter })}`}
            aria-current={filter === query.filter ? 'page' : undefined}
          >
            {NAMES[filter]} <span className="num soft">{countWords(counts[filter])}</span>
          </Link>
        ))}
      </nav>
      <Form action="/desk" role="search">
        {[...new URLSearchParams(deskAddress({ ...query, find: '' }))].map(([name, value]) => (
          <input key={name} type="hidden" name={name} value={value} />
        ))}
        <input
          className="write"
          type="search"
          name="find"
          defaultValue={query.find}
          aria-label="Find a player or a question"
          placeholder="Find a player or a question"
        />
      </Form>
    </div>
  );
};
