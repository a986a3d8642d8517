/** Every way in which a request can be refused. Closed: the map to HTTP status and the tests are total over it. */
export const FAULTS = [
  'not-signed-in',
  'not-found', // absent and forbidden look the same
  'invalid',
  'conflict', // somebody else changed it first
  'wrong-state', // the lesson, clip or invitation is past that
  'safeguarding', // a rule about minors forbids it
  'too-many',
  'too-large',
  'unsupported',
  'storage-full',
  'unavailable', // a part of the program is down
  'internal',
] as const;
export type Fault = (typeof FAULTS)[number];

/** The one error type of the project. `forPeople` is shown; `message` and `detail` go to the log only. */
export class CagepostError extends Error {
  override readonly name = 'CagepostError';
  constructor(
    readonly fault: Fault,
    /** One sentence or two: what happened, what was kept, what to do. */
    readonly forPeople: string,
    readonly detail: Record<string, unknown> = {},
    options?: ErrorOptions,
  ) {
    super(`${fault}: ${forPeople}`, options);
  }
}

/** HTTP status of each fault. Total: a new fault without a status does not compile. */
export const STATUS_OF = {
  'not-signed-in': 401,
  'not-found': 404,
  invalid: 400,
  conflict: 409,
  'wrong-state': 409,
  safeguarding: 403,
  'too-many': 429,
  'too-large': 413,
  unsupported: 415,
  'storage-full': 507,
  unavailable: 503,
  internal: 500,
} as const satisfies Record<Fault, number>;

/** Says no in the way that tells nothing: whether the thing is absent or somebody else's. */
export const notFound = (what: string) =>
  new CagepostError('not-found', `There is no such ${what}, or it is not yours to see.`, { what });
