/** @type {import('next').NextConfig} */
const config = {
  poweredByHeader: false,
  // Named after its sources by the step that builds it; null: by chance.
  generateBuildId: () => process.env.CAGEPOST_BUILD_ID ?? null,
  // `npm run check` checks the types of everything, tests included; a start need not wait for that.
  typescript: { ignoreBuildErrors: true },
  // A hundred megabytes of cache, and the time to write them, for a build that is rarely repeated.
  experimental: { turbopackFileSystemCacheForBuild: false },
  // Programs with native parts, or that read files beside themselves: left as they are instead of bundled.
  serverExternalPackages: [
    'node-av',
    '@node-rs/argon2',
    'pg',
    'pg-boss',
    'pino',
    'nodemailer',
    '@prisma/client',
    '@prisma/adapter-pg',
    'mediabunny',
  ],
  // What holds for every answer, files of `public` included. The content policy is made per page: see proxy.ts.
  headers: async () => [
    {
      source: '/:path*',
      headers: [
        { key: 'X-Content-Type-Options', value: 'nosniff' },
        { key: 'Referrer-Policy', value: 'strict-origin-when-cross-origin' },
        { key: 'X-Frame-Options', value: 'DENY' },
        { key: 'Cross-Origin-Opener-Policy', value: 'same-origin' },
        { key: 'Cross-Origin-Resource-Policy', value: 'same-origin' },
        {
          key: 'Permissions-Policy',
          value: 'camera=(self), microphone=(self), geolocation=(), payment=(), usb=(), browsing-topics=()',
        },
      ],
    },
    {
      // The worker that suggests points: its engine may run, and nothing can be sent anywhere else.
      source: '/pose/:path*',
      headers: [
        {
          key: 'Content-Security-Policy',
          value: "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; connect-src 'self' blob:",
        },
      ],
    },
  ],
};

export default config;
