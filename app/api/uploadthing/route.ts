import { uploads } from '@/app/_server/uploads';

/** Claims of the SDK's client, and the host's calls back (signed by it). */
export const POST = (request: Request) => uploads().handle(request);
