import NextAuth from 'next-auth';
import type { NextRequest } from 'next/server';
import { authOptions } from '@/lib/auth/options';
import { authSettings } from '@/lib/auth/settings';

type Context = { params: Promise<{ nextauth: string[] }> };

// The settings are read at the first request, not at import: the build imports every route where nothing is set.
const handle = (request: NextRequest, context: Context): Promise<Response> =>
  NextAuth(request as never, context as never, authOptions(authSettings())) as Promise<Response>;

export { handle as GET, handle as POST };
