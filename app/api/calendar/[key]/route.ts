import { requestIp } from '@/app/_server/action';
import { answer } from '@/app/_server/api';
import { siteOrigin } from '@/app/_server/mailer';
import { ports } from '@/app/_server/ports';
import { asSystem } from '@/lib/auth/system';
import { spend } from '@/lib/data/rate-limit';
import { readCalendar } from '@/lib/workflows/read-calendar';

/** A coach's promised times for their calendar program, which has no session: the secret in the address is the key. */
export const GET = (_request: Request, { params }: { params: Promise<{ key: string }> }) =>
  answer('calendar', async () => {
    const secret = (await params).key.replace(/\.ics$/, '');
    await spend('calendar.read', await requestIp());
    const text = await readCalendar(ports, asSystem('sign-in'), { secret, siteUrl: siteOrigin() });
    return new Response(text, {
      headers: {
        'content-type': 'text/calendar; charset=utf-8',
        'content-disposition': 'inline; filename="promised-times.ics"',
        'cache-control': 'private, no-store',
      },
    });
  });
