export interface PolicyFacts {
  /** Base64, fresh for every answer. */
  nonce: string;
  isDev: boolean;
  isHttps: boolean;
  /** Whether bytes go to the hosted upload service. */
  hasHostedUploads: boolean;
}

// Where the hosted service takes files in and gives them out.
const UPLOAD_HOSTS = ['https://*.ingest.uploadthing.com', 'https://*.ufs.sh', 'https://utfs.io'];

/**
 * The Content-Security-Policy (W3C, level 3) of a page: own scripts by nonce, nothing from anybody else, unless the
 * hosted upload service is set up. Styles may be inline: React writes them into attributes.
 */
export function contentPolicy({ nonce, isDev, isHttps, hasHostedUploads }: PolicyFacts): string {
  const uploads = hasHostedUploads ? UPLOAD_HOSTS : [];
  const rules: Record<string, readonly string[]> = {
    'default-src': ["'self'"],
    // The dev server evaluates code to show errors at their source and talks over a web socket.
    'script-src': ["'self'", `'nonce-${nonce}'`, "'strict-dynamic'", ...(isDev ? ["'unsafe-eval'"] : [])],
    'style-src': ["'self'", "'unsafe-inline'"],
    'img-src': ["'self'", 'blob:', 'data:'],
    'media-src': ["'self'", 'blob:'],
    'font-src': ["'self'"],
    'connect-src': ["'self'", ...uploads, ...(isDev ? ['ws:'] : [])],
    'worker-src': ["'self'", 'blob:'],
    'manifest-src': ["'self'"],
    'object-src': ["'none'"],
    'frame-src': ["'none'"],
    'base-uri': ["'none'"],
    'form-action': ["'self'"],
    'frame-ancestors': ["'none'"],
    ...(isHttps ? { 'upgrade-insecure-requests': [] } : {}),
  };
  return Object.entries(rules)
    .map(([rule, sources]) => [rule, ...sources].join(' '))
    .join('; ');
}
