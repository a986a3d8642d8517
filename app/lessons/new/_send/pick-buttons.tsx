import { Icon } from '@/app/_ui/icon';
import styles from './send.module.css';

// Phones and desktops often do not know Matroska as a video, so its ending is named as well.
const ACCEPT = 'video/*,.mkv,.mov';

type Props = {
  /** The page's one action while there is no clip yet. */
  isFirst: boolean;
  left: number;
  /** Said instead of `Add another view` when there is a clip. */
  another?: string;
  onPick: (files: File[]) => void;
};

/**
 * Pick from the device, or film now (only where a finger points: elsewhere `capture` does nothing). Real file inputs
 * under their words, so that keyboard and screen reader meet what they know.
 */
export const PickButtons = ({ isFirst, left, another = 'Add another view', onPick }: Props) => {
  const take = (input: HTMLInputElement) => {
    const files = [...(input.files ?? [])];
    input.value = ''; // the same file may be picked again after it was removed
    if (files.length > 0) onPick(files.slice(0, left));
  };
  return (
    <div className={styles.pick}>
      <label className={`btn big wide ${isFirst ? 'do' : ''} ${styles.file}`}>
        <input type="file" accept={ACCEPT} multiple={left > 1} onChange={(event) => take(event.target)} />
        <Icon name={isFirst ? 'phone' : 'plus'} />
        {isFirst ? 'Pick a clip' : another}
      </label>
      <label className={`btn big wide ${styles.file} ${styles.film}`}>
        <input type="file" accept="video/*" capture="environment" onChange={(event) => take(event.target)} />
        <Icon name="camera" />
        Film now
      </label>
    </div>
  );
};
