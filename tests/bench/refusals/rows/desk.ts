import { buildDeskView } from '../../../support/build-desk';
import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import { tokenHash } from '@/lib/data/token-hash';
import { officeHours } from '../../../support/office-hours';
import { action, ALL, form, LEADS, route, STAFF, type OperationRow } from '../row';
import { inReviewOf, submittedOf } from './lessons';

// Actions of the desk: giving out, promises, views, hours, the calendar.

const desk = 'action app/desk/actions.ts';
const inThreeDays = () => new Date(Date.now() + 3 * 86_400_000).toISOString().slice(0, 16);

export const DESK_ROWS: Record<string, OperationRow> = {
  [`${desk} splitLessonsAction`]: action('target', LEADS, async (t) => ({
    givings: [{ lessonId: (await submittedOf(t)).id, coachId: t.coach.id, hadId: null }],
  })),
  // The coach who has the lesson, or a lead.
  [`${desk} movePromiseAction`]: action(
    'target',
    { 'its-coach': 'ok', coach: 'wrong-state', lead: 'ok' },
    async (t) => ({ lessonId: (await inReviewOf(t)).id, local: inThreeDays(), reason: 'A storm.' }),
  ),
  [`${desk} keepDeskViewAction`]: action('self', STAFF, () => ({ name: 'Late ones', query: 'show=all' })),
  // A coach's own.
  [`${desk} removeDeskViewAction`]: action('program', { 'its-coach': 'ok' }, async (t) => ({
    id: (await buildDeskView(t.program, t.coach)).id,
  })),
  'action app/desk/hours/actions.ts setOwnHoursAction': action('self', STAFF, () => ({
    hours: null,
    promiseHours: null,
  })),
  'action app/program/hours/actions.ts setHoursAction': action('self', LEADS, () => officeHours()),
  'action app/account/calendar-actions.ts makeCalendar': form('self', STAFF, () => ({})),
  'action app/account/calendar-actions.ts endCalendar': form('self', STAFF, () => ({})),
  // The secret in the address is the key, whoever holds it.
  'GET app/api/calendar/[key]/route.ts': route(
    'open',
    ALL,
    async (t) => {
      const secret = uuid();
      await prisma.person.update({ where: { id: t.coach.id }, data: { calendarKey: tokenHash(secret) } });
      return `/api/calendar/${secret}.ics`;
    },
    { outside: 'ok' },
  ),
};
