import type { DocumentFacts, DocumentKind } from '../billing/documents';

// Everything that is kept about one person in one program, as it goes into the file they can take away. Instants are
// ISO 8601 in UTC, days YYYY-MM-DD, amounts integer minor units of their currency. It is written as JSON as it stands
// and as a page in plain words; `file` names are paths inside the file.

/** A file inside the copy, and where it lies in storage until it is packed. */
export interface EverythingFile {
  file: string;
  key: string;
}

/** What a clip was and what of it is kept. */
export interface EverythingClip {
  id: string;
  view: string | null;
  state: string;
  frameCount: number | null;
  fileRate: number | null;
  captureRate: number | null;
  removedAt: string | null;
  files: EverythingFile[];
}

/** A breakdown that was given. The files are its voice, its timeline and its captions. */
export interface EverythingBreakdown {
  id: string;
  title: string;
  by: string;
  givenAt: string;
  durationMs: number | null;
  removedAt: string | null;
  /** Which of the times it was kept stands: the number in the names of its files. */
  take: number;
  captions: string;
  files: EverythingFile[];
}

export interface EverythingReply {
  by: string;
  body: string;
  at: string;
  earlier: { body: string; at: string }[];
}

export interface EverythingPractice {
  drill: string;
  cue: string;
  dose: unknown;
  givenAt: string;
  endedAt: string | null;
  checkIns: {
    day: string;
    setsDone: number;
    repsDone: number;
    feel: number | null;
    note: string;
    painLevel: number;
    painWhere: string | null;
  }[];
}

export interface EverythingLesson {
  id: string;
  number: number | null;
  state: string;
  question: string;
  bats: string | null;
  pitchMode: string | null;
  pitchZone: number | null;
  result: string | null;
  painLevel: number | null;
  painWhere: string | null;
  sentAt: string | null;
  promisedAt: string | null;
  returnedAt: string | null;
  coach: string | null;
  /** The items of the checklist that its sheets were written on. */
  items: { id: string; title: string }[];
  events: { kind: string; at: string; reason: string | null }[];
  clips: EverythingClip[];
  /** Everything that was returned, oldest first: verdicts, cues, marks, notes and points as in FORMAT of the sheet. */
  returns: { number: number; at: string; fixFirst: string; sheet: unknown }[];
  breakdowns: EverythingBreakdown[];
  replies: EverythingReply[];
  practice: EverythingPractice[];
  opened: { by: string; firstAt: string; lastAt: string }[];
}

export interface Everything {
  version: 1;
  madeAt: string;
  program: { name: string; timeZone: string };
  person: {
    id: string;
    name: string;
    birthDate: string | null;
    email: string | null;
    bats: string | null;
    timeZone: string | null;
    since: string;
    roles: string[];
    hasPassword: boolean;
  };
  guardians: { name: string; verifiedAt: string | null; pausedAt: string | null }[];
  children: { name: string; verifiedAt: string | null; pausedAt: string | null }[];
  lessons: EverythingLesson[];
  targets: {
    measure: string;
    low: number | null;
    high: number | null;
    setAt: string;
    endedAt: string | null;
  }[];
  consents: {
    scope: string;
    by: string;
    version: string;
    method: string;
    givenAt: string;
    expiresAt: string | null;
    withdrawnAt: string | null;
  }[];
  practiceSafety: { version: number; adult: string | null; at: string }[];
  /** Who of the staff was shown what while the player was a minor. */
  shown: { by: string; what: string; at: string }[];
  ledger: {
    kind: string;
    amountMinor: number;
    currency: string;
    method: string | null;
    reason: string;
    at: string;
    dueAt: string | null;
  }[];
  documents: {
    kind: DocumentKind;
    number: number;
    at: string;
    facts: DocumentFacts;
    file: string;
    id: string;
  }[];
  notices: { kind: string; at: string; readAt: string | null }[];
  mailChoices: { kind: string; mail: string }[];
  /** Of somebody on the staff. */
  checks: { kind: string; issuedOn: string; expiresOn: string; revokedAt: string | null }[];
  remarks: { title: string; text: string; createdAt: string; files: EverythingFile[] }[];
  /** Clips of drills that this person sent. */
  drillClips: { id: string; drill: string; shows: string; sentAt: string; files: EverythingFile[] }[];
  /** What somebody wrote on threads of others: a guardian's or a coach's replies. */
  written: { body: string; at: string }[];
  coached: { lessonNumber: number | null; sentAt: string | null; returnedAt: string | null }[];
  /** Files that are too large for an archive: they can be fetched from their lesson or drill. */
  leftOut: string[];
  /** Concerns that this person raised with their name; only for themselves. */
  concerns: { body: string; at: string }[];
}
