import '@fontsource/atkinson-hyperlegible/400.css';
import '@fontsource/atkinson-hyperlegible/700.css';
import '@fontsource/zilla-slab/500-italic.css';
import '@fontsource/zilla-slab/600.css';
import './globals.css';
import type { Metadata, Viewport } from 'next';
import type { ReactNode } from 'react';

export const metadata: Metadata = {
  title: { default: 'Cagepost', template: '%s · Cagepost' },
  description: 'Hitting lessons by post: film a swing at home, get one thing to fix first.',
  robots: { index: false, follow: false },
  icons: { icon: '/icon.svg', apple: '/icon-192.png' },
  formatDetection: { telephone: false, date: false, address: false },
};

export const viewport: Viewport = {
  width: 'device-width',
  initialScale: 1,
  viewportFit: 'cover',
  themeColor: '#f5f0e3',
};

// Every page carries the nonce of its own request (see proxy.ts), so none can be made ahead of it.
export const dynamic = 'force-dynamic';

/** Knows nothing about who is asking: every page checks its own viewer. */
export default function RootLayout({ children }: { children: ReactNode }) {
  return (
    <html lang="en">
      <body>{children}</body>
    </html>
  );
}
