import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import { passwords } from '@/lib/auth/passwords';
import { buildCoach, buildGuardian, buildInvitation } from '../../../support/build';
import { buildConcern } from '../../../support/build-care';
import { action, ALL, FAMILY, form, LEADS, STAFF, type OperationRow } from '../row';
import { PASSWORD, type Actor, type Target } from '../world';

// Actions on accounts, people, care, practice, concerns and the program.

const account = 'action app/account/actions.ts';
const people = 'action app/people/actions.ts';
const care = 'action app/players/[playerId]/care/actions.ts';
const practice = 'action app/practice/actions.ts';
const invite = 'action app/(public)/invite/[token]/actions.ts';
const EVERYBODY = { ...ALL } as const;

const withPassword = async (as: Actor | null) => {
  if (!as) return;
  const passwordHash = await passwords.hash(PASSWORD);
  await prisma.person.update({ where: { id: as.person.id }, data: { passwordHash } });
};
const mailbox = () => `${uuid()}@example.org`;

export const PEOPLE_ROWS: Record<string, OperationRow> = {
  [`${account} changeMyPassword`]: form(
    'self',
    EVERYBODY,
    async (_t, as) => {
      await withPassword(as);
      return { oldPassword: PASSWORD, newPassword: `${PASSWORD} and ${uuid()}` };
    },
    { isPersonal: true },
  ),
  [`${account} signOutElsewhere`]: form('self', EVERYBODY, () => ({})),
  [`${account} switchProgram`]: form('program', EVERYBODY, (t) => ({ programId: t.program.id })),
  [`${account} addMyChild`]: form('self', { guardian: 'ok' }, () => ({
    id: uuid(),
    name: 'Sam Sample',
    birthDate: '2018-03-01',
    consent: 'yes',
  })),
  [`${account} setPause`]: form('target', { guardian: 'ok' }, (t) => ({
    playerId: t.player.id,
    isPaused: 'no',
  })),
  [`${account} nameMyGuardian`]: form('self', { self: 'ok', minor: 'ok' }, () => ({
    name: 'Alex Sample',
    email: mailbox(),
  })),
  'action app/concerns/actions.ts raise': form('target', ALL, (t) => ({
    id: uuid(),
    playerId: t.player.id,
    body: 'A message came at night.',
  })),
  'action app/concerns/actions.ts close': form('target', LEADS, async (t) => ({
    id: (await buildConcern(t.program, t.player)).id,
    outcome: 'Talked to both.',
  })),
  [`${people} invite`]: form('target', { self: 'ok', minor: 'ok', ...STAFF }, (t) => ({
    role: 'guardian',
    name: 'Alex Sample',
    email: mailbox(),
    playerId: t.player.id,
  })),
  // Sent by the lead: nobody else takes it back.
  [`${people} withdraw`]: form('program', LEADS, async (t) => ({
    invitationId: (await buildInvitation(t.program, t.lead)).id,
  })),
  [`${people} confirm`]: form('target', LEADS, async (t) => ({
    guardianId: (await buildGuardian(t.program, [t.player], { isVerified: false })).id,
    playerId: t.player.id,
  })),
  [`${people} addClearance`]: form('program', LEADS, async (t) => ({
    id: uuid(),
    personId: (await buildCoach(t.program)).id,
    kind: 'background-check',
    issuedOn: '2026-01-01',
    expiresOn: '2027-01-01',
  })),
  [`${people} endClearance`]: form('program', LEADS, async (t) => ({
    personId: (await buildCoach(t.program)).id,
    kind: 'background-check',
  })),
  [`${people} setRole`]: form('program', LEADS, async (t) => ({
    personId: (await buildCoach(t.program)).id,
    role: 'lead',
    isOn: 'yes',
  })),
  [`${care} setZone`]: form('target', FAMILY, (t) => ({
    playerId: t.player.id,
    timeZone: 'America/Chicago',
  })),
  // For a minor only a guardian agrees.
  [`${care} setConsent`]: form('target', { self: 'ok', guardian: 'ok' }, (t) => ({
    playerId: t.player.id,
    scope: 'share',
    isGiven: 'yes',
  })),
  // Under 13 a guardian confirms it.
  [`${practice} confirmSafetyAction`]: action(
    'target',
    FAMILY,
    (t) => ({ playerId: t.player.id, adult: 'Robin Sample' }),
    { except: { child: { child: 'safeguarding' } } },
  ),
  // A guardian says it for a minor.
  [`${practice} sayClearedAction`]: action(
    'target',
    { self: 'ok', guardian: 'ok', minor: 'safeguarding' },
    async (t) => {
      await pause(t, null);
      return { playerId: t.player.id };
    },
  ),
  [`${practice} resumePracticeAction`]: action('target', STAFF, async (t) => {
    await pause(t, 'said-cleared');
    return { playerId: t.player.id };
  }),
  'action app/program/actions.ts updateProgramAction': action('self', LEADS, () => ({
    name: 'Renamed Hitting',
    promiseHours: 48,
    howToPay: '',
    priceLabel: 'One lesson',
    amountMinor: 4500,
  })),
  'action app/(public)/sign-in/actions.ts askForLink': form(
    'open',
    EVERYBODY,
    (_t, as) => ({ email: as?.person.email ?? 'nobody@example.org' }),
    { outside: 'ok', isPersonal: true },
  ),
  // The token is the key, whoever holds it.
  [`${invite} acceptAsNew`]: form(
    'open',
    EVERYBODY,
    async (t) => ({
      token: (await buildInvitation(t.program, t.lead, { role: 'coach' })).token,
      name: 'New Sample',
      password: `${PASSWORD} of ${uuid()}`,
    }),
    { outside: 'ok', isPersonal: true },
  ),
  // The owner of the invited address, signed in; also somebody who is in no program any more.
  [`${invite} acceptAsKnown`]: form(
    'self',
    EVERYBODY,
    async (t, as) => {
      const email = as?.person.email ?? mailbox();
      return {
        token: (await buildInvitation(t.program, t.lead, { role: 'guardian', email })).token,
        consent: 'yes',
      };
    },
    {
      isPersonal: true,
      // A minor is nobody's guardian. Under 13 there is no address, so nobody can invite to it.
      except: {
        left: { adult: 'ok' },
        teen: { adult: 'safeguarding' },
        child: { adult: 'not-found' },
      },
      undo: ({ name, person }) =>
        name === 'guardian' || name === 'other-guardian'
          ? Promise.resolve()
          : prisma.membership.deleteMany({ where: { personId: person.id, role: 'guardian' } }),
    },
  ),
};

async function pause({ player }: Target, pauseReason: 'said-cleared' | null) {
  await prisma.assignment.updateMany({
    where: { playerId: player.id },
    data: { endedAt: null, pausedAt: new Date(), pauseReason },
  });
}
