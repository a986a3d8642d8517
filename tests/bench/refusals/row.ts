import type { Fault } from '@/lib/domain/shared/errors';
import { formOf } from '../../support/action-client';
import type { Method } from './operations';
import type { Actor, Relation, RoleName, Target } from './world';

/**
 * How a call may end: `ok`; `sign-in` (a page that leads there); `away` (a page that leads elsewhere); `nothing` (a
 * list that answers, with nothing in it); or the closed name of the fault.
 */
export type Outcome = 'ok' | 'sign-in' | 'away' | 'nothing' | 'no-such-method' | Fault;

/** A call that is ready to be made. */
export interface Call {
  /** Arguments of an action. */
  args?: readonly unknown[];
  /** Path of a page or route. */
  path?: string;
  body?: BodyInit;
  headers?: Record<string, string>;
}

/** What a row needs of the run besides target and actor. */
export interface Stand {
  /** The path under which this actor may fetch a file of the storage, after that file was put there. */
  mediaPath(
    folder: 'clips' | 'breakdowns' | 'remarks',
    id: string,
    file: string,
    as: Actor | null,
  ): Promise<string>;
  /** Puts a file under this key of the storage. */
  putFile(key: string): Promise<void>;
  /** The path of an upload that the player of the target has begun, for a fresh clip of theirs. */
  uploadPath(target: Target): Promise<string>;
}

export interface OperationRow {
  /** Whose it is: a player's (`target`), the program's, the asking person's alone (`self`), or the same for all (`open`). */
  about: 'target' | 'program' | 'self' | 'open';
  /** By relation, how the call ends. What is not named ends as `refused` says, for people with a session. */
  may: Partial<Record<Relation, Outcome>>;
  refused: Outcome;
  /** Where that hangs on what the role is in its own program. */
  refusedByKind?: Partial<Record<Relation, Outcome>>;
  /** For people without a session that holds; by default what the kind of operation says. */
  outside?: Outcome;
  /** Single cells that differ, with their reason beside them. */
  except?: Partial<Record<RoleName, Partial<Record<Target['name'], Outcome>>>>;
  method?: Method;
  /** What is asked for depends on who asks. */
  isPersonal?: true;
  /** Called by a program and not by a page: where it comes from is not looked at; its signature is. */
  hasNoOrigin?: true;
  /** Takes back what a granted call did to the asker, where later cells would ask somebody else. */
  undo?(as: Actor): Promise<unknown>;
  call(target: Target, as: Actor | null, stand: Stand): Promise<Call> | Call;
}

type Rest = Partial<Omit<OperationRow, 'about' | 'may' | 'call'>>;
type May = OperationRow['may'];
type Prepare<T> = (target: Target, as: Actor | null, stand: Stand) => Promise<T> | T;

/** A server action that takes a value. */
export const action = (
  about: OperationRow['about'],
  may: May,
  prepare: Prepare<unknown>,
  rest: Rest = {},
): OperationRow => ({
  ...{ about, may, refused: 'not-found', ...rest },
  call: async (target, as, stand) => ({ args: [await prepare(target, as, stand)] }),
});

/** A server action that takes a form; fields that are undefined are left out. */
export const form = (
  about: OperationRow['about'],
  may: May,
  prepare: Prepare<Record<string, string | undefined>>,
  rest: Rest = {},
): OperationRow => ({
  ...{ about, may, refused: 'not-found', ...rest },
  call: async (target, as, stand) => ({ args: [null, formOf(await prepare(target, as, stand))] }),
});

/** A page. */
export const page = (
  about: OperationRow['about'],
  may: May,
  prepare: Prepare<string>,
  rest: Rest = {},
): OperationRow => ({
  ...{ about, may, refused: 'not-found', ...rest },
  call: async (target, as, stand) => ({ path: await prepare(target, as, stand) }),
});

/** A route: its path, or path and body. */
export const route = (
  about: OperationRow['about'],
  may: May,
  prepare: Prepare<string | Call>,
  rest: Rest = {},
): OperationRow => ({
  ...{ about, may, refused: 'not-found', ...rest },
  call: async (target, as, stand) => {
    const made = await prepare(target, as, stand);
    return typeof made === 'string' ? { path: made } : made;
  },
});

/** A JSON body with its header. */
export const json = (path: string, value: unknown): Call => ({
  path,
  body: JSON.stringify(value),
  headers: { 'content-type': 'application/json' },
});

// Who may, as in the matrix of lib/data.
export const FAMILY = { self: 'ok', minor: 'ok', guardian: 'ok' } as const;
export const STAFF = { 'its-coach': 'ok', coach: 'ok', lead: 'ok' } as const;
export const ALL = { ...FAMILY, ...STAFF } as const;
export const LEADS = { lead: 'ok' } as const;
export const ITS_COACH_OR_LEAD = { 'its-coach': 'ok', lead: 'ok' } as const;
