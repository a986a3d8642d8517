import Link from 'next/link';
import type { ReactNode } from 'react';
import type { Role } from '@/lib/domain/people/viewer';

const PLACES = {
  desk: { href: '/desk', words: 'Desk' },
  players: { href: '/players', words: 'Players' },
  people: { href: '/people', words: 'People' },
  program: { href: '/program', words: 'Program' },
  lessons: { href: '/lessons', words: 'My lessons' },
  billing: { href: '/billing', words: 'Billing' },
} as const;
export type Place = keyof typeof PLACES;

/** The places in the bar for these roles. The program's settings are the lead's. */
const placesOf = (roles: readonly Role[]): Place[] => {
  const isStaff = roles.includes('coach') || roles.includes('lead');
  const staff: Place[] = isStaff ? ['desk', 'players', 'people', 'program'] : [];
  return roles.includes('player') || roles.includes('guardian') ? [...staff, 'lessons', 'billing'] : staff;
};

type Props = {
  programName: string;
  /** Of the viewer; none on pages for people who have not signed in. */
  roles?: readonly Role[];
  current?: Place | 'account' | 'notices';
  /** The viewer's name, a link to the account. */
  personName?: string;
  /** How many notices the viewer has not read; absent where there are none to read. */
  unread?: number;
  /** Stands before the account link: a lesson's state, say. */
  children?: ReactNode;
  /** Aligns with a reading page (`book`) instead of the whole width. */
  isReading?: boolean;
};

/** The head of every page: skip link, the program's name, the places for the viewer's roles, the account. */
export const TopBar = ({
  programName,
  roles = [],
  current,
  personName,
  unread,
  children,
  isReading = false,
}: Props) => {
  const places = placesOf(roles);
  const home = places[0];
  return (
    <>
      <a className="skip" href="#main">
        To the page
      </a>
      <header className={isReading ? 'top reading' : 'top'}>
        <Link className="name" href={home ? PLACES[home].href : '/'}>
          {programName}
        </Link>
        {places.length > 1 && (
          <nav aria-label="Places">
            {places.map((place) => (
              <Link
                key={place}
                href={PLACES[place].href}
                aria-current={place === current ? 'page' : undefined}
              >
                {PLACES[place].words}
              </Link>
            ))}
          </nav>
        )}
        {(personName || children) && (
          <div className="me">
            {children}
            {unread !== undefined && (
              <Link href="/notices" aria-current={current === 'notices' ? 'page' : undefined}>
                Notices
                {unread > 0 && (
                  <b className="unread num">
                    {unread > 99 ? '99+' : unread}
                    <span className="sr"> unread</span>
                  </b>
                )}
              </Link>
            )}
            {personName && (
              <Link href="/account" aria-current={current === 'account' ? 'page' : undefined}>
                {personName}
              </Link>
            )}
          </div>
        )}
      </header>
    </>
  );
};
