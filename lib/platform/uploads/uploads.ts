import type { IncomingMessage, ServerResponse } from 'node:http';
import type { Log } from '@/lib/workflows/ports';
import type { ChosenStorage } from '../storage';
import type { PartClaims, PersonOf, UploadClaims, UploadLimits } from './claims';
import { createClipSort } from './clip-sort';
import { createEmbeddedUploads } from './embedded-uploads';
import { createHostedUploads } from './hosted-uploads';
import { createPartSort } from './part-sort';
import type { SweepReport } from './sweep';
import type { UploadSorts } from './upload-sort';

export interface UploadSettings {
  /** The folder of this installation's data; unfinished uploads grow in its `uploads` folder. */
  dataFolder: string;
  /** Whether web servers of other machines receive into the same folder. */
  isShared?: boolean;
  /** The installation's secret; keys for signing are derived from it. */
  secret: string;
  /** Where browsers reach this server, for the hosted service's calls back; null: as the request says. */
  publicOrigin?: string | null;
  claims: UploadClaims;
  /** Who is asked about parts of breakdowns. */
  parts: PartClaims;
  personOf: PersonOf;
  limits: UploadLimits;
  log: Log;
  now?: () => Date;
  /** Free bytes on the disk of a folder; the tests fill the disk with it. */
  freeBytes?: (folder: string) => Promise<number>;
  fetch?: typeof fetch;
}

/** The server side of uploads: the same for whoever hosts the files. */
export interface Uploads {
  host: 'embedded' | 'hosted';
  /** `/api/uploadthing`: claims, and the host's calls back. */
  handle(request: Request): Promise<Response>;
  /** `/api/ingest/<key>`: HEAD and PUT of the embedded host; 404 at the hosted one. */
  ingest(request: IncomingMessage, response: ServerResponse): Promise<void>;
  /** Puts right what a killed server left behind. Run at the start and every few minutes. */
  sweep(): Promise<SweepReport>;
}

/** Uploads for the storage of this installation. */
export const createUploads = (settings: UploadSettings, chosen: ChosenStorage): Uploads => {
  const sorts: UploadSorts = {
    clip: createClipSort(settings.claims, settings.limits),
    part: createPartSort(settings.parts),
  };
  return chosen.host === 'local'
    ? createEmbeddedUploads(settings, chosen.storage, sorts)
    : createHostedUploads(settings, chosen.storage, chosen.token, sorts);
};
