import { type NextRequest, NextResponse } from 'next/server';
import { contentPolicy } from './lib/platform/content-policy';

/**
 * Gives every page its content policy with a fresh nonce; Next puts the nonce on its own scripts. Where people come by
 * https, browsers are told to stay there.
 */
export function proxy(request: NextRequest): NextResponse {
  const nonce = Buffer.from(crypto.getRandomValues(new Uint8Array(16))).toString('base64');
  const isHttps = (process.env.NEXTAUTH_URL ?? '').startsWith('https:');
  const policy = contentPolicy({
    nonce,
    isDev: process.env.NODE_ENV === 'development',
    isHttps,
    hasHostedUploads: Boolean(process.env.UPLOADTHING_TOKEN),
  });
  const headers = new Headers(request.headers);
  headers.set('x-nonce', nonce);
  headers.set('content-security-policy', policy);
  const response = NextResponse.next({ request: { headers } });
  response.headers.set('content-security-policy', policy);
  if (isHttps) response.headers.set('strict-transport-security', 'max-age=63072000; includeSubDomains');
  return response;
}

export const config = {
  // Not the routes that take or give media: what passes through here is cut at 10 MB. Nor files, which run no
  // scripts; those of the pose model have a policy of their own.
  matcher: ['/((?!pose/|api/ingest|api/media|api/uploadthing|_next/static|_next/image|favicon.ico).*)'],
};
