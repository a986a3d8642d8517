import { CagepostError, STATUS_OF } from '@/lib/domain/shared/errors';
import { refusalOf } from './action';

/** Runs a route handler and answers its value as JSON (a Response as it is); a refusal becomes `{fault, message}` with its status. Nothing of it is ever cached. */
export async function answer(name: string, work: () => Promise<unknown>): Promise<Response> {
  const headers = { 'cache-control': 'private, no-store' };
  try {
    const value = await work();
    return value instanceof Response ? value : Response.json(value, { headers });
  } catch (error) {
    const { fault, message } = refusalOf(error, name);
    return Response.json({ fault, message }, { status: STATUS_OF[fault], headers });
  }
}

/** The JSON body of a request up to `most` bytes, or a refusal. */
export async function readJson(request: Request, most: number): Promise<unknown> {
  const text = await request.text();
  if (text.length > most) throw new CagepostError('too-large', 'That is more than can be saved at once.');
  try {
    return JSON.parse(text);
  } catch (cause) {
    throw new CagepostError(
      'invalid',
      'What arrived was cut off. It is kept on your device; try again.',
      {},
      { cause },
    );
  }
}
