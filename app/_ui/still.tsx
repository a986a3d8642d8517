import type { ReactNode } from 'react';
import { Icon } from './icon';

type Props = {
  /** Address of the picture; null while there is none. */
  src: string | null;
  alt: string;
  /** Size of the frame in its own pixels: marks are drawn in these coordinates. */
  width?: number;
  height?: number;
  /** Marks as SVG children in frame coordinates. */
  marks?: ReactNode;
  className?: string;
};

/** A picture of one frame with its marks over it. Without a picture it stays dark and says so by its `alt`. */
export const Still = ({ src, alt, width, height, marks, className }: Props) => (
  <span
    className={['still', src ? '' : 'blank', className ?? ''].filter(Boolean).join(' ')}
    {...(src ? {} : { role: 'img', 'aria-label': alt })}
  >
    {src ? (
      <img src={src} alt={alt} width={width} height={height} loading="lazy" decoding="async" />
    ) : (
      <Icon name="camera" />
    )}
    {marks && width && height && (
      <svg
        className="marks"
        viewBox={`0 0 ${width} ${height}`}
        preserveAspectRatio="xMidYMid slice"
        aria-hidden="true"
      >
        {marks}
      </svg>
    )}
  </span>
);
