import type { NextApiRequest, NextApiResponse } from 'next';
import { uploads } from '@/app/_server/uploads';

// Node's own request: bytes go from the socket to the disk without a detour through web streams.
export const config = { api: { bodyParser: false, externalResolver: true } };

/** HEAD and PUT of the embedded ingest. */
export default function ingest(request: NextApiRequest, response: NextApiResponse): Promise<void> {
  return uploads().ingest(request, response);
}
