const SHAPES = {
  left: <path d="M12.5 3.5 6 10l6.5 6.5" />,
  right: <path d="M7.5 3.5 14 10l-6.5 6.5" />,
  up: <path d="M3.5 12.5 10 6l6.5 6.5" />,
  down: <path d="M3.5 7.5 10 14l6.5-6.5" />,
  check: <path d="m3.5 10.5 4.5 4.5 8.5-10.5" />,
  cross: <path d="m5 5 10 10M15 5 5 15" />,
  plus: <path d="M10 3.5v13M3.5 10h13" />,
  minus: <path d="M3.5 10h13" />,
  play: <path d="M5 3v14l12-7Z" fill="currentColor" stroke="none" />,
  pause: <path d="M6.5 4v12M13.5 4v12" strokeWidth="3" />,
  again: <path d="M15.5 6.5A6.5 6.5 0 1 0 16.5 11M16 2.5v4.5h-4.5" />,
  camera: <path d="M2 5.5h11v9.5H2zM13 9l5-3v8.5l-5-3" />,
  phone: <path d="M5.5 2.5h9v15h-9zM9 5.5h2" />,
  reply: <path d="M2.5 3.5h15v10.5H9l-4 3.5V14H2.5z" />,
  mail: <path d="M2.5 4.5h15v11h-15zM3 5l7 6 7-6" />,
  eye: (
    <>
      <path d="M2 10c4-6 12-6 16 0-4 6-12 6-16 0Z" />
      <circle cx="10" cy="10" r="2.5" fill="currentColor" stroke="none" />
    </>
  ),
  hide: <path d="M2 10c4-6 12-6 16 0-4 6-12 6-16 0ZM3.5 16.5l13-13" />,
  pick: <path d="m4 2.5 12 8.5-5.5 1L7.5 17Z" />,
  line: <path d="M3.5 16.5 16.5 3.5" />,
  arrow: <path d="M3.5 16.5 16 4M8.5 4H16v7.5" />,
  circle: <ellipse cx="10" cy="10" rx="7.5" ry="6" />,
  angle: <path d="M17 16H3.5L14 4.5M9.5 16a6 6 0 0 0-2-4.5" />,
  freehand: <path d="M2.5 14.5c4-9 6-11 7-8s-2 7 1 7 3.5-7 7-8" />,
  plumb: <path d="M10 2v9.5M7 12h6l-3 5.5Z" />,
  word: <path d="M4 6.5V3.5h12v3M10 3.5v13M7.5 16.5h5" />,
  ground: <path d="M6 5.5h8l4 10H2ZM10 5.5v10M4 10.5h12" />,
  points: <path d="M6 2v8M2 6h8M14 9v8M10 13h8" />,
  undo: <path d="M7.5 4 3.5 8l4 4M3.5 8h8a4.5 4.5 0 0 1 0 9H9" />,
  redo: <path d="m12.5 4 4 4-4 4M16.5 8h-8a4.5 4.5 0 0 0 0 9H11" />,
  bin: <path d="M3.5 5.5h13M8 5V3h4v2M5.5 5.5 6.5 17h7l1-11.5" />,
  trim: <path d="M4 3v14M16 3v14M7.5 10h5M7.5 7v6M12.5 7v6" />,
  full: <path d="M3 7.5V3h4.5M12.5 3H17v4.5M17 12.5V17h-4.5M7.5 17H3v-4.5" />,
  care: <path d="M4.5 18V2.5l11 4.5-11 4.5" />,
  find: (
    <>
      <circle cx="8.5" cy="8.5" r="5.5" />
      <path d="m13 13 4 4" />
    </>
  ),
} as const;

export type IconName = keyof typeof SHAPES;

/** A drawn sign of 20 by 20, in the colour of the text. Decoration: the words beside it, or an `aria-label`, say it. */
export const Icon = ({ name, className }: { name: IconName; className?: string }) => (
  <svg
    className={className ? `ico ${className}` : 'ico'}
    viewBox="0 0 20 20"
    aria-hidden="true"
    focusable="false"
  >
    {SHAPES[name]}
  </svg>
);
