import path from 'node:path';
import type { Storage } from '@/lib/workflows/ports';
import { createHostedStorage } from './storage-hosted';
import { createLocalStorage, type LocalStorage } from './storage-local';

export interface StorageSettings {
  /** The folder of this installation's data; files lie in its `storage` folder. */
  dataFolder: string;
  /** With a token the files lie at the hosted service, without on this machine's disk. */
  uploadthingToken?: string | undefined;
  fetch?: typeof fetch;
}

/** The storage of this installation, and where it is. Only the local one can take over a finished upload by renaming. */
export type ChosenStorage =
  { host: 'local'; storage: LocalStorage } | { host: 'hosted'; storage: Storage; token: string };

/** Picks the host by the settings: the hosted service with a token, else the folder `storage` under the data folder. */
export const chooseStorage = (settings: StorageSettings): ChosenStorage => {
  const { dataFolder, uploadthingToken: token } = settings;
  if (!token)
    return {
      host: 'local',
      storage: createLocalStorage(path.join(/*turbopackIgnore: true*/ dataFolder, 'storage')),
    };
  const scratch = path.join(/*turbopackIgnore: true*/ dataFolder, 'scratch');
  return {
    host: 'hosted',
    storage: createHostedStorage({ token, scratch, ...(settings.fetch && { fetch: settings.fetch }) }),
    token,
  };
};

/** The Storage port of this installation; see `chooseStorage`. */
export const createStorage = (settings: StorageSettings): Storage => chooseStorage(settings).storage;
