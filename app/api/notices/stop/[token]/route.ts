import { requestIp } from '@/app/_server/action';
import { answer } from '@/app/_server/api';
import { stopByToken } from '@/app/_server/stop-mail';
import { spend } from '@/lib/data/rate-limit';

type Context = { params: Promise<{ token: string }> };

/**
 * One click in a mail program ends a kind of mail (RFC 8058). It comes from the program's own servers, without a
 * session and without an origin: the signature in the address is the key.
 */
export const POST = (_request: Request, { params }: Context) =>
  answer('notices.stop', async () => {
    await spend('notices.stop', await requestIp());
    await stopByToken((await params).token);
    return { isStopped: true };
  });

/** A person who follows the address gets a page with a button: whatever looks ahead at links ends nothing. */
export const GET = async (_request: Request, { params }: Context) =>
  new Response(null, {
    status: 303,
    headers: { location: `/stop-mail/${(await params).token}`, 'cache-control': 'private, no-store' },
  });
