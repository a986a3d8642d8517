import type { NextApiRequest, NextApiResponse } from 'next';
import { answerMedia } from '@/app/_server/uploads';

// Node's own response: route handlers of `app/` drop Content-Length, which players need for ranges.
export const config = { api: { bodyParser: false, responseLimit: false, externalResolver: true } };

/** One file of a clip, whole or in part. */
export default function media(request: NextApiRequest, response: NextApiResponse): Promise<void> {
  return answerMedia(request, response);
}
