import type { MetadataRoute } from 'next';

export default function manifest(): MetadataRoute.Manifest {
  return {
    name: 'Cagepost',
    short_name: 'Cagepost',
    description: 'Hitting lessons by post.',
    start_url: '/',
    display: 'standalone',
    background_color: '#f5f0e3',
    theme_color: '#f5f0e3',
    icons: [
      { src: '/icon.svg', sizes: 'any', type: 'image/svg+xml' },
      { src: '/icon-192.png', sizes: '192x192', type: 'image/png' },
      { src: '/icon-512.png', sizes: '512x512', type: 'image/png' },
    ],
  };
}
