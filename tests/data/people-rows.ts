import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import * as invitationsRead from '@/lib/data/invitations.read';
import * as invitations from '@/lib/data/invitations.write';
import * as peopleRead from '@/lib/data/people.read';
import * as people from '@/lib/data/people.write';
import * as peopleLists from '@/lib/data/people-lists.read';
import * as players from '@/lib/data/players.read';
import type { Day } from '@/lib/domain/people/age';
import type { InvitationId, PersonId } from '@/lib/domain/shared/ids';
import {
  done,
  fresh,
  has,
  LEADS,
  PLAYERS_SIDE,
  PLAYERS_SIDE_AND_STAFF,
  row,
  self,
  STAFF,
  system,
  type Row,
} from '../support/matrix';

// The rows of `matrix-rows.ts` about people and invitations.

const at = new Date('2026-06-01T12:00:00Z');

export const PEOPLE_ROWS: Record<string, Record<string, Row>> = {
  'invitations.read': {
    listInvitations: row(
      STAFF,
      async (v) => (await invitationsRead.listInvitations(v, at)).rows,
      has('id', (t: never) => (t as { invitation: { id: string } }).invitation.id),
    ),
    // Each guardian is asked by address for a child of their own.
    listExpectedChildren: row(
      { guardian: ['own', 'bare'] },
      (v) => invitationsRead.listExpectedChildren(v),
      has('invitationId', (t: never) => (t as { expected: { id: string } }).expected.id),
    ),
  },
  'invitations.write': {
    // A player may invite a guardian for themselves; a guardian adds children instead.
    createInvitation: row({ player: ['own', 'bare'], coach: STAFF.coach, lead: STAFF.lead }, (v, t, tx) =>
      done(
        invitations.createInvitation(v, tx, {
          id: fresh<InvitationId>(),
          role: 'guardian',
          name: 'Alex Sample',
          email: 'alex@example.org',
          playerId: t.player.id,
          token: uuid(),
          expiresAt: at,
          at,
        }),
      ),
    ),
    lockInvitations: row({ lead: ['own', 'other', 'bare', 'elsewhere'] }, (v, _t, tx) =>
      done(invitations.lockInvitations(v, tx)),
    ),
    forgetExpectedChild: row({ guardian: ['own', 'bare'] }, (v, t, tx) =>
      done(invitations.forgetExpectedChild(v, tx, t.expected.id)),
    ),
    // Sent by the lead: the coach sees it and cannot take it back.
    withdrawInvitation: row(LEADS, (v, t, tx) =>
      done(invitations.withdrawInvitation(v, tx, t.invitation.id, at)),
    ),
  },
  'invitations.system': {
    findInvitation: system('the link is the key: only its holder has the token'),
    takeInvitation: system('called with an invitation that its token opened'),
    closeInvitation: system('called with an invitation that its token opened'),
    createInvitedPerson: system('called after the invitation was used up, in the same transaction'),
    keepBirthDate: system('called for the signed-in owner of the invited address'),
    joinProgram: system('called after the invitation was used up, in the same transaction'),
    standBeside: system('called after the invitation was used up, in the same transaction'),
    inviteGuardianOf: system('called after a minor accepted, for the guardian whom the program named'),
  },
  'people.read': {
    readPlayer: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) => peopleRead.readPlayer(v, t.player.id, tx)),
    listWards: row(
      { guardian: ['own'] },
      (v) => peopleRead.listWards(v),
      has('personId', (t: never) => (t as { player: { id: string } }).player.id),
    ),
    readAccount: self((v) => peopleRead.readAccount(v)),
    readOwnPassword: self((v, tx) => peopleRead.readOwnPassword(v, tx)),
  },
  'people.write': {
    setTimeZone: row(PLAYERS_SIDE, (v, t, tx) => done(people.setTimeZone(v, tx, t.player.id, 'Asia/Tokyo'))),
    addChild: row({ guardian: ['own', 'other', 'bare', 'elsewhere'] }, (v, _t, tx) => {
      const child = { id: fresh<PersonId>(), name: 'Sam Sample', birthDate: '2017-03-01' as Day, bats: null };
      return people.addChild(v, tx, child, at);
    }),
    setContactPause: row({ guardian: ['own'] }, (v, t, tx) =>
      done(people.setContactPause(v, tx, t.player.id, at)),
    ),
    confirmGuardian: row(LEADS, (v, t, tx) =>
      done(people.confirmGuardian(v, tx, { guardianId: t.guardian.id, playerId: t.player.id }, at)),
    ),
    setOwnPassword: self((v, tx) => people.setOwnPassword(v, tx, 'a hash')),
    endOwnSessions: self((v, tx) => people.endOwnSessions(v, tx)),
    setStaffRole: row(LEADS, (v, t, tx) =>
      done(people.setStaffRole(v, tx, t.inReview.coachId as PersonId, 'lead', true)),
    ),
  },
  'people-lists.read': {
    listPeople: row(
      STAFF,
      async (v) => (await peopleLists.listPeople(v, 'player')).rows,
      has('personId', (t: never) => (t as { player: { id: string } }).player.id),
    ),
    listNeedingCare: row(
      STAFF,
      async (v, t) => {
        await prisma.thread.updateMany({ where: { playerId: t.player.id }, data: { guardsUntil: null } });
        return (await peopleLists.listNeedingCare(v, v.adultsBornUntil)).rows;
      },
      has('personId', (t: never) => (t as { player: { id: string } }).player.id),
    ),
    findPeople: row(
      STAFF,
      async (v, t) => (await peopleLists.findPeople(v, t.player.name)).rows,
      has('personId', (t: never) => (t as { player: { id: string } }).player.id),
    ),
  },
  'players.read': {
    listPlayers: row(
      STAFF,
      async (v) => (await players.listPlayers(v)).rows,
      has('id', (t: never) => (t as { player: { id: string } }).player.id),
    ),
  },
};
