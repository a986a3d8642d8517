'use client';

import { useEffect, useState } from 'react';
import { Icon } from '@/app/_ui/icon';
import styles from './send.module.css';

/** The address of a blob for as long as it is shown; null without one. */
export const useBlobAddress = (blob: Blob | null): string | null => {
  const [address, setAddress] = useState<string | null>(null);
  useEffect(() => {
    if (!blob) return;
    const made = URL.createObjectURL(blob);
    setAddress(made);
    return () => {
      URL.revokeObjectURL(made);
      setAddress(null);
    };
  }, [blob]);
  return address;
};

/** A still of the clip that is being sent. Some browsers cannot show what the engine can read (HEVC): then a sign stands there. */
export const ClipPreview = ({ file, number }: { file: Blob | null; number: number }) => {
  const address = useBlobAddress(file);
  const [isDark, setIsDark] = useState(false);
  if (!address || isDark) {
    return (
      <span
        className={`still blank ${styles.preview}`}
        role="img"
        aria-label={`Clip ${number}, no picture here`}
      >
        <Icon name="camera" />
      </span>
    );
  }
  return (
    <span className={`still ${styles.preview}`}>
      {/* The fragment makes phones paint a picture without playing; a little in, because first pictures are often black. */}
      <video
        src={`${address}#t=0.5`}
        muted
        playsInline
        preload="metadata"
        aria-label={`Clip ${number}`}
        onError={() => setIsDark(true)}
      />
    </span>
  );
};
