import { buildDeskView } from '../../../support/build-desk';
import { officeHours } from '../../../support/office-hours';
import { action, LEADS, STAFF, type OperationRow } from '../row';
import { inReviewOf, submittedOf } from './lessons';

// Actions of the desk: giving out, promises, views, hours.

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
};
