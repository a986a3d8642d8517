import { changesBetween, isSame } from '@/lib/domain/review/changes';
import { mergeSheets } from '@/lib/domain/review/merge';
import { parseSheet } from '@/lib/domain/review/parse-sheet';
import type { Sheet } from '@/lib/domain/review/sheet';
import { SnapshotStore } from '../player/snapshot-store';
import type { Draft, DraftBook } from './draft-book';
import type { Choice, SaverSnapshot, SaveState } from './save-state';
import type { SaveAnswer, SaveSheet } from './sheet-transport';

/** A save waits for this long a pause in the writing, and never longer than `LONGEST_WAIT_MS` after the first edit. */
const PAUSE_MS = 600;
const LONGEST_WAIT_MS = 4000;
/** Waits after failed saves; the last one repeats. */
const RETRY_MS = [1000, 2000, 5000, 15_000, 30_000] as const;
/** Browsers carry at most 64 KiB of requests past the end of a page (Fetch standard, "inflight keepalive bytes"). */
const KEEPALIVE_BYTES = 60_000;
/** Sheets sent without an answer that are remembered; each is at most one retry. */
const MOST_UNANSWERED = 20;

export interface SheetSaver {
  getSnapshot(): SaverSnapshot;
  subscribe(listener: () => void): () => void;
  /** Takes an edit: it is in the snapshot at once, in the draft book soon after, and on the server when it can. */
  edit(change: (sheet: Sheet) => Sheet): void;
  /** Answers a conflict; when refused, `mine` tries again and `theirs` drops the writing. What is chosen is saved. */
  choose(choice: Choice): void;
  /** The notice about joined changes was read. */
  readJoined(): void;
  /** Saves now and waits for the outcome; true when the server has everything. Call it before a return. */
  flush(): Promise<boolean>;
  /** The page goes away (pagehide, or the bench is left): sends what waits; the draft book has it in any case. */
  leave(): void;
  dispose(): void;
}

export interface SaverOptions {
  /** Whose writing on which lesson, as in "personId/lessonId": drafts are taken up by the same owner only. */
  owner: string;
  /** A fresh id for the draft of this bench. */
  draftId: string;
  server: { sheet: Sheet; revision: number };
  save: SaveSheet;
  book: DraftBook;
  /** Now, in ms since 1970. */
  now?: () => number;
}

/** Another version of the sheet that ours must be joined with, and where both grew from. */
interface Other {
  readonly ancestor: Sheet;
  readonly theirs: Sheet;
  readonly server: { readonly sheet: Sheet; readonly revision: number };
  readonly byName: string;
  readonly at: string;
}

/**
 * Keeps a sheet: the latest edit wins, one save is in flight, an edit made meanwhile follows right after, and what the
 * server has not confirmed lies in the draft book. What somebody else saved is joined; what both changed waits for a choice.
 */
export const createSheetSaver = ({
  owner,
  draftId,
  server,
  save,
  book,
  now = Date.now,
}: SaverOptions): SheetSaver => {
  const store = new SnapshotStore<SaverSnapshot>({
    sheet: server.sheet,
    state: { is: 'kept', at: null },
    joined: null,
  });
  /** What the server is known to hold. */
  let base = server.sheet;
  let revision = server.revision;
  /** Sent without an answer since then: one of them may be on the server. */
  let unanswered: readonly Sheet[] = [];

  let inFlight: Promise<void> | null = null;
  let other: Other | null = null;
  let leftDrafts: Draft[] | null = null;
  let isRefused = false;
  let isDisposed = false;
  let failures = 0;
  let firstEditAt: number | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let isInBrowser = true;
  let keeping: Promise<void> = Promise.resolve();
  const release = book.hold(draftId);

  const mine = () => store.getSnapshot().sheet;
  const isUnsaved = () => unanswered.length > 0 || !isSame(mine(), base);
  const mustWait = () => other !== null || isRefused;
  const instant = () => new Date(now()).toISOString();
  const say = (state: SaveState) => store.set({ state });
  const sayWriting = () =>
    say({ is: 'unsaved', why: 'writing', sentence: 'Not saved yet.', inBrowser: isInBrowser });

  /** Writes or drops the draft, one after the other, so that an older one never lands on a newer one. */
  const keepDraft = (): Promise<void> => {
    const draft: Draft | null = isUnsaved()
      ? { id: draftId, owner, base, baseRevision: revision, sheet: mine(), sent: unanswered, at: instant() }
      : null;
    keeping = keeping
      .then(() => (draft ? book.keep(draft) : book.drop(draftId)))
      .then(
        () => setInBrowser(true),
        () => setInBrowser(false),
      );
    return keeping;
  };
  const setInBrowser = (next: boolean) => {
    isInBrowser = next;
    const { state } = store.getSnapshot();
    if ('inBrowser' in state && state.inBrowser !== next) say({ ...state, inBrowser: next });
  };

  const schedule = (wait: number) => {
    clearTimeout(timer);
    if (!isDisposed) timer = setTimeout(() => void send(), wait);
  };

  const send = (): Promise<void> => {
    clearTimeout(timer);
    if (inFlight) return inFlight;
    if (!isUnsaved() || mustWait()) return Promise.resolve();
    const sheet = mine();
    unanswered = [...unanswered.filter((sent) => !isSame(sent, sheet)), sheet].slice(-MOST_UNANSWERED);
    firstEditAt = null;
    void keepDraft();
    say({ is: 'saving' });
    // Every save that fits may outlive the page, so that leaving in the middle of one does not lose it.
    const keepalive = new Blob([JSON.stringify(sheet)]).size < KEEPALIVE_BYTES;
    inFlight = save({ baseRevision: revision, sheet }, { keepalive })
      .catch((): SaveAnswer => ({ is: 'failed', sentence: 'The save broke off.' }))
      .then((answer) => {
        inFlight = null;
        settle(answer, sheet);
      });
    return inFlight;
  };

  const settle = (answer: SaveAnswer, sent: Sheet) => {
    switch (answer.is) {
      case 'kept':
        return confirmed(sent, answer.revision);
      case 'stale':
        return meetServer(answer);
      case 'refused':
        return refuse(answer.sentence);
      case 'failed': {
        const isOffline = globalThis.navigator?.onLine === false;
        const sentence = isOffline ? 'There is no connection.' : answer.sentence;
        say({ is: 'unsaved', why: isOffline ? 'offline' : 'failed', sentence, inBrowser: isInBrowser });
        schedule(RETRY_MS[Math.min(failures, RETRY_MS.length - 1)] ?? 0);
        failures += 1;
        return;
      }
      default:
        return answer satisfies never;
    }
  };

  /** The server holds `sheet` as `next`; whatever was written since follows at once. */
  const confirmed = (sheet: Sheet, next: number) => {
    base = sheet;
    revision = next;
    unanswered = [];
    failures = 0;
    void keepDraft();
    if (!isUnsaved()) return say({ is: 'kept', at: instant() });
    sayWriting();
    schedule(0);
  };
  const refuse = (sentence: string) => {
    isRefused = true;
    unanswered = [];
    say({ is: 'refused', sentence, inBrowser: isInBrowser });
    void keepDraft();
  };

  const meetServer = (answer: Extract<SaveAnswer, { is: 'stale' }>) => {
    let theirs: Sheet;
    try {
      theirs = parseSheet(answer.sheet);
    } catch {
      return refuse(
        'Somebody saved this lesson in a way that this page cannot read. Your writing is kept. Reload the page.',
      );
    }
    // Our own save whose answer was lost: nobody else wrote anything.
    if (unanswered.some((sent) => isSame(sent, theirs))) return confirmed(theirs, answer.revision);
    const { byName, at } = answer;
    meet({ ancestor: base, theirs, server: { sheet: theirs, revision: answer.revision }, byName, at });
  };

  /** Joins another version with what is written here, or asks when both touched the same things. */
  const meet = (met: Other) => {
    const { withMine, conflicts } = mergeSheets(met.ancestor, mine(), met.theirs);
    if (conflicts.length > 0) {
      other = met;
      say({ is: 'conflict', byName: met.byName, at: met.at, conflicts });
      void keepDraft();
      return;
    }
    const count = changesBetween(met.ancestor, met.theirs).length;
    if (count > 0) store.set({ joined: { byName: met.byName, at: met.at, count } });
    adopt(withMine, met);
  };
  const adopt = (sheet: Sheet, met: Other) => {
    other = null;
    store.set({ sheet });
    confirmed(met.server.sheet, met.server.revision);
  };

  const choose = (choice: Choice) => {
    if (isRefused) {
      isRefused = false;
      store.set({ sheet: choice === 'theirs' ? base : mine() });
      return confirmed(base, revision);
    }
    if (!other) return;
    const chosen = {
      'with-mine': () => (other ? mergeSheets(other.ancestor, mine(), other.theirs).withMine : mine()),
      theirs: () => other?.theirs ?? base,
      mine,
    } as const satisfies Record<Choice, () => Sheet>;
    adopt(chosen[choice](), other);
    void takeUp();
  };

  const edit = (change: (sheet: Sheet) => Sheet) => {
    const next = change(mine());
    if (isSame(next, mine())) return;
    store.set({ sheet: next });
    void keepDraft();
    // Still nothing is sent in a conflict; what both changed is worked out anew.
    if (other) return meet(other);
    if (isRefused || inFlight || failures > 0) return;
    sayWriting();
    firstEditAt ??= now();
    schedule(Math.max(0, Math.min(PAUSE_MS, firstEditAt + LONGEST_WAIT_MS - now())));
  };

  /** Takes up what earlier benches of the same owner left behind, one after the other; a conflict stops it until it is answered. */
  const takeUp = async () => {
    try {
      leftDrafts ??= (await book.claim(owner)).filter((draft) => draft.id !== draftId);
    } catch {
      return setInBrowser(false);
    }
    while (!isDisposed && !mustWait()) {
      const draft = leftDrafts.shift();
      if (!draft) return;
      // What the page shows already is the other side: the earlier writing is never put over it unseen.
      const met: Other = {
        ancestor: draft.sent.find((sent) => isSame(sent, base)) ?? draft.base,
        theirs: mine(),
        server: { sheet: base, revision },
        byName: 'the lesson as it is saved now',
        at: draft.at,
      };
      const { withMine, conflicts } = mergeSheets(met.ancestor, draft.sheet, met.theirs);
      store.set({ sheet: conflicts.length > 0 ? draft.sheet : withMine });
      if (conflicts.length > 0) meet(met);
      else if (isUnsaved() && !inFlight) {
        sayWriting();
        schedule(0);
      }
      await keepDraft();
      // Only now that this bench's own draft holds it.
      if (isInBrowser) await book.drop(draft.id).catch(() => undefined);
    }
  };

  const wake = () => {
    if (failures === 0) return;
    failures = 0;
    void send();
  };
  globalThis.addEventListener?.('online', wake);
  void takeUp();

  return {
    getSnapshot: store.getSnapshot,
    subscribe: store.subscribe,
    edit,
    choose,
    readJoined: () => store.set({ joined: null }),
    flush: async () => {
      // Twice at most: what was written while a save was on its way needs one of its own.
      for (let turn = 0; turn < 2 && (inFlight || isUnsaved()) && !mustWait(); turn += 1) await send();
      return !inFlight && !isUnsaved();
    },
    leave: () => void send(),
    dispose: () => {
      isDisposed = true;
      clearTimeout(timer);
      globalThis.removeEventListener?.('online', wake);
      store.clear();
      void (inFlight ?? Promise.resolve()).then(() => keeping).then(release);
    },
  };
};
