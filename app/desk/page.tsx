import type { Metadata } from 'next';
import Link from 'next/link';
import { redirect } from 'next/navigation';
import { clipUrl } from '@/app/_server/clip-url';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { Notice } from '@/app/_ui/notice';
import { EmptyState } from '@/app/_ui/empty-state';
import { OverdueSwings } from '@/app/practice/_practice/overdue-swings';
import { Page } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { countDesk, listCare, listOwnPromises, listOwnReviewTimes, readDesk } from '@/lib/data/desk.read';
import type { DeskRow } from '@/lib/data/desk-select';
import { listDeskViews } from '@/lib/data/desk-views.read';
import { listLoads } from '@/lib/data/loads.read';
import { listOverdueSwings } from '@/lib/data/practice.read';
import {
  cursorAddress,
  deskAddress,
  parseCursor,
  parseDeskQuery,
  type DeskFilter,
} from '@/lib/domain/desk/desk-query';
import { eveningLine, paceMinutes } from '@/lib/domain/desk/evening-line';
import { dayIn } from '@/lib/domain/people/age';
import { isLead, isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { coachChoice } from './_desk/coach-words';
import { endOfDay } from './_desk/due';
import { DeskHead } from './_desk/desk-head';
import { DeskKeys } from './_desk/desk-keys';
import { DeskTable } from './_desk/desk-table';
import { Narrowed, NarrowForm } from './_desk/narrow-form';
import { DeskTabs } from './_desk/desk-tabs';
import { DeskViews } from './_desk/desk-views';
import { GiveOutBar } from './_desk/give-out-bar';
import { LoadTable } from './_desk/load-table';
import css from './_desk/desk.module.css';

export const metadata: Metadata = { title: 'Desk' };

type Search = Promise<Record<string, string | string[] | undefined>>;

/** The coach's desk: what is promised, in order of promise, and whether tonight holds. */
export default async function DeskPage({ searchParams }: { searchParams: Search }) {
  const viewer = await requireViewer('/desk');
  if (!isStaff(viewer)) redirect('/lessons');
  const address = await searchParams;
  const query = parseDeskQuery(address);
  const { filter } = query;
  const frame = await pageFrame(viewer);
  const careIds = listCare(viewer, frame.now);
  const today = dayIn(frame.timeZone, frame.now);
  const [desk, counts, waiting, reviews, loads, views, overdue] = await Promise.all([
    readDesk(viewer, { ...query, now: frame.now, careIds, after: parseCursor(address.after) }),
    countDesk(viewer, frame.now, careIds),
    listOwnPromises(viewer),
    listOwnReviewTimes(viewer),
    listLoads(viewer, { now: frame.now, endOfDay: endOfDay(frame.now, frame.timeZone) }),
    listDeskViews(viewer),
    listOverdueSwings(viewer, today),
  ]);
  const moment = { now: frame.now, timeZone: frame.timeZone, hours: frame.program.hours };
  const coaches = loads.map((load) => coachChoice(load, moment));
  const mayLead = isLead(viewer);
  const isNarrowed = deskAddress(query) !== deskAddress({ filter });
  const pace = paceMinutes(reviews);
  return (
    <>
      <FrameBar frame={frame} current="desk" />
      <Page kind="broad">
        {!viewer.isCleared && (
          <Notice kind="plain" title="The lessons of minors are closed to you">
            <p>
              Your background check or your training against abuse is missing or has run out.{' '}
              {isLead(viewer) ? (
                <Link href="/people">Record it on the People page.</Link>
              ) : (
                'Ask a lead to record it on the People page.'
              )}
            </p>
          </Notice>
        )}
        <DeskHead
          line={eveningLine(frame.now, waiting, pace)}
          pace={pace}
          now={frame.now}
          timeZone={frame.timeZone}
        />
        <OverdueSwings overdue={overdue} />
        <DeskTabs query={query} counts={counts} />
        <div className={css.narrow}>
          <NarrowForm query={query} coaches={coaches} />
          {mayLead ? <LoadTable loads={loads} moment={moment} /> : null}
          <DeskViews views={views} query={deskAddress(query)} canKeep={isNarrowed} />
        </div>
        {isNarrowed ? <Narrowed query={query} coaches={coaches} /> : null}
        {desk.rows.length === 0 ? (
          <EmptyState title={isNarrowed ? 'Nothing found' : EMPTY[filter].title}>
            <p>{isNarrowed ? 'No lesson of this list fits what you asked for.' : EMPTY[filter].words}</p>
            {!isNarrowed && filter === 'mine' && counts.open > 0 ? (
              <Link className="btn" href="/desk?show=open">
                See what nobody has taken yet
              </Link>
            ) : null}
          </EmptyState>
        ) : (
          <DeskTable
            rows={desk.rows}
            posters={postersOf(viewer, desk.rows, frame.now)}
            isReturned={filter === 'returned'}
            viewer={viewer}
            coaches={coaches}
            now={frame.now}
            timeZone={frame.timeZone}
          />
        )}
        <div className={css.foot}>
          {desk.next ? (
            <Link className="btn" href={`/desk?${deskAddress(query)}&after=${cursorAddress(desk.next)}`}>
              Next 50
            </Link>
          ) : null}
          <Link href="/desk/hours" prefetch={false}>
            When you work, and when you are away
          </Link>
          <p className="small soft">J and K move, Enter opens, T takes</p>
        </div>
        {mayLead && filter !== 'returned' && desk.rows.length > 0 ? <GiveOutBar /> : null}
        <DeskKeys />
      </Page>
    </>
  );
}

const EMPTY = {
  mine: {
    title: 'Your desk is clear',
    words: 'Nothing is waiting for you. New lessons stand under “Nobody’s yet”.',
  },
  open: { title: 'Everything is taken', words: 'Every lesson that waits has its coach.' },
  all: {
    title: 'Nothing waits',
    words: 'No lesson is waiting for an answer. New ones come here as they are sent.',
  },
  care: {
    title: 'Nothing needs care',
    words: 'No pain reported, no guardian missing, no clip to send again.',
  },
  returned: { title: 'Nothing returned this week', words: 'What you return stays here for a week.' },
} as const satisfies Record<DeskFilter, { title: string; words: string }>;

const postersOf = (viewer: Viewer, rows: readonly DeskRow[], now: Date) =>
  new Map(
    rows.flatMap(({ posterClipId: id }) =>
      id ? [[id, clipUrl(viewer, id, 'poster.jpg', now)] as const] : [],
    ),
  );
