import { describe, expect, test } from 'vitest';
import { composeMail } from '@/lib/documents/compose-mail';
import type { Day } from '@/lib/domain/people/age';
import { mailDataSchema, type MailBody } from '@/lib/domain/notices/mail';

const SITE = 'https://cage.example.org';
const program = { programName: 'Maple & Sons', path: '/lessons/7' };
const facts = {
  programName: 'Maple & Sons',
  playerName: 'Wren <b>Sample</b>',
  lessonNumber: 2,
  path: '/lessons/7#reply-8',
};

const MAILS: Record<MailBody['kind'], MailBody> = {
  invitation: {
    kind: 'invitation',
    data: { programName: 'Maple & Sons', inviter: 'Lena', role: 'guardian', path: '/invite/t0ken', days: 14 },
  },
  'lesson-submitted': { kind: 'lesson-submitted', data: { ...facts, promise: '2026-06-03T12:00:00.000Z' } },
  'lesson-taken': { kind: 'lesson-taken', data: { ...facts, coachName: 'Cole' } },
  'lesson-returned': { kind: 'lesson-returned', data: { ...facts, coachName: 'Cole' } },
  'lesson-withdrawn': { kind: 'lesson-withdrawn', data: facts },
  reply: { kind: 'reply', data: { ...facts, authorName: 'Cole' } },
  'age-turned': { kind: 'age-turned', data: { ...facts, age: 18 } },
  'concern-raised': { kind: 'concern-raised', data: { programName: 'Maple & Sons', path: '/concerns' } },
  'breakdown-given': { kind: 'breakdown-given', data: { ...facts, coachName: 'Cole' } },
  'captions-asked': { kind: 'captions-asked', data: { ...facts, authorName: 'Robin' } },
  'pain-reported': { kind: 'pain-reported', data: facts },
  'swing-asked': { kind: 'swing-asked', data: { ...facts, swingBy: '2026-06-03' as Day } },
  'swing-overdue': { kind: 'swing-overdue', data: { ...facts, swingBy: '2026-06-03' as Day } },
  'lesson-given': { kind: 'lesson-given', data: { ...facts, byName: 'Cole' } },
  'promise-moved': { kind: 'promise-moved', data: facts },
  'erasure-asked': {
    kind: 'erasure-asked',
    data: { ...program, personName: facts.playerName, on: '2026-06-03' as Day },
  },
  'erasure-cancelled': { kind: 'erasure-cancelled', data: { ...program, personName: facts.playerName } },
  'copy-ready': { kind: 'copy-ready', data: { ...program, personName: facts.playerName } },
  erased: { kind: 'erased', data: program },
  'promise-near': { kind: 'promise-near', data: facts },
  'promise-missed': { kind: 'promise-missed', data: facts },
  'payment-due': { kind: 'payment-due', data: { ...program, dueOn: '2026-06-03' as Day, isLate: false } },
  'consent-expiring': {
    kind: 'consent-expiring',
    data: { ...program, playerName: facts.playerName, scope: 'lessons', endsOn: '2026-06-03' as Day },
  },
  'contact-paused': { kind: 'contact-paused', data: { ...program, playerName: facts.playerName } },
  digest: {
    kind: 'digest',
    data: { ...program, lines: [`${facts.playerName}: lesson 2 is back`], more: 3, path: '/notices' },
  },
  'document-ready': {
    kind: 'document-ready',
    data: { programName: 'Maple & Sons', documentName: 'Receipt 12', path: '/billing' },
  },
  'drill-clip-failed': {
    kind: 'drill-clip-failed',
    data: {
      programName: 'Maple & Sons',
      drillTitle: 'Hold the load',
      reason: 'The file is cut off. Send it again.',
      path: '/program/drills',
    },
  },
  'clip-failed': {
    kind: 'clip-failed',
    data: {
      programName: 'Maple & Sons',
      playerName: 'Wren',
      reason: 'The file is cut off. Send it again.',
      path: '/lessons/7',
    },
  },
};
const bodies = Object.values(MAILS);

describe.each(bodies)('the mail $kind', (body) => {
  test('carries its link in both parts, below the site and nowhere else', async () => {
    const { subject, text, html } = await composeMail(body, SITE);
    const link = `${SITE}${body.data.path}`;
    expect(text).toContain(link);
    expect(html).toContain(`href="${link}"`);
    for (const [address] of `${text} ${html}`.matchAll(/https?:\/\/[^\s"<>]+/g)) {
      // The document type of the HTML part names the W3C.
      if (!address.startsWith('http://www.w3.org/')) expect(address.startsWith(SITE)).toBe(true);
    }
    expect(subject.trim()).not.toBe('');
    expect(text).toContain(subject);
  });

  test('shows names as they are, and never as markup', async () => {
    const { html } = await composeMail(body, SITE);
    expect(html).not.toContain('<b>Sample</b>');
    expect(html).toContain('Maple &amp; Sons');
  });

  test('loads nothing from anywhere', async () => {
    expect((await composeMail(body, SITE)).html).not.toMatch(/<(img|script|link)\b|url\(/i);
  });

  test('has no room for a question, a note or the words of a reply', () => {
    const secret = 'It hurts when I swing';
    const stuffed = { kind: body.kind, data: { ...body.data, question: secret, note: secret, body: secret } };
    expect(JSON.stringify(mailDataSchema.parse(stuffed))).not.toContain(secret);
  });
});

test('a mail that can be ended says where, in both parts; another does not', async () => {
  const choices = { choicesUrl: `${SITE}/notices/choices`, stopUrl: `${SITE}/api/notices/stop/a.reply.b` };
  const { text, html } = await composeMail(MAILS.reply, SITE, choices);
  for (const address of Object.values(choices)) {
    expect(text).toContain(address);
    expect(html).toContain(`href="${address}"`);
  }
  expect((await composeMail(MAILS['pain-reported'], SITE)).text).not.toContain('/notices/');
});

test('a mail about pain says to stop and to ask a clinician', async () => {
  const { text } = await composeMail(MAILS['pain-reported'], SITE);
  expect(text).toContain('stop hitting');
  expect(text).toContain('clinician');
});

test('data of another kind is refused', () => {
  expect(mailDataSchema.safeParse({ kind: 'reply', data: MAILS.invitation.data }).success).toBe(false);
  expect(mailDataSchema.safeParse({ kind: 'newsletter', data: facts }).success).toBe(false);
});
