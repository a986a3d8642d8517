import type { Answer } from '@/lib/domain/shared/result';

/** Said when a call did not reach the server, or its answer not us: which of the two nobody knows, so a repeat must be harmless. */
const NOT_REACHED = 'This did not reach us. What you wrote is still here; press again in a moment.';

/**
 * What a server action answered; a refusal in `lostWords` when the connection is lost. Never throws: in a transition that
 * would put the error page in the place of what was written.
 */
export const answerOf = <T>(asked: Promise<Answer<T>>, lostWords: string = NOT_REACHED): Promise<Answer<T>> =>
  asked.catch(() => ({ ok: false, fault: 'unavailable', message: lostWords }));
