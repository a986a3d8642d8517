'use client';

import { Icon } from '@/app/_ui/icon';
import styles from './send.module.css';

type Props = {
  /** As it is called in a sentence: "clip 2". */
  name: string;
  /** The browser does not have the file any more. */
  needsFile: boolean;
  /** Again with the same file, or with one that was picked again. */
  onRetry: (file?: File) => void;
};

/** Tries a clip again that did not go through. */
export const PickAgain = ({ name, needsFile, onRetry }: Props) =>
  needsFile ? (
    <label className={`btn small ${styles.file}`}>
      <input
        type="file"
        accept="video/*,.mkv,.mov"
        aria-label={`Choose ${name} again`}
        onChange={(event) => event.target.files?.[0] && onRetry(event.target.files[0])}
      />
      <Icon name="again" />
      Choose it again
    </label>
  ) : (
    <button type="button" className="btn small" onClick={() => onRetry()} aria-label={`Try ${name} again`}>
      <Icon name="again" />
      Try again
    </button>
  );
