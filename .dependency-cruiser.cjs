/**
 * The arrows between the folders, as a gate. A rule says what a folder may NOT import; `comment` is what a developer
 * reads when it stops them. The folders and their reasons: lib/README.md.
 */
const installed = (names) => `(^|node_modules/)(${names.join('|')})(/|$)`;
const FRAMEWORKS = installed(['react', 'react-dom', 'next', 'next-auth', '@prisma/[^/]+', 'server-only']);
const SERVER = '^lib/(data|workflows|platform|auth|documents|worker)/';
const BROWSER_FILES = ['^app/_ui/', '^app/.+/_[^/]+/'];
const onlyTypes = { dependencyTypesNot: ['type-only'] };

module.exports = {
  forbidden: [
    {
      name: 'no-cycles',
      severity: 'error',
      comment: 'Two files that need each other are one file, or need a third.',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    {
      name: 'domain-is-pure',
      severity: 'error',
      comment:
        'lib/domain imports itself, zod, the calendar, linear algebra, DEFLATE and tables as text; it knows no clock, no machine and no framework.',
      from: { path: '^lib/domain/' },
      to: {
        path: '.',
        pathNot: [
          '^lib/domain/',
          installed(['zod', 'date-fns', '@date-fns/tz', 'ml-matrix', 'fflate', 'papaparse']),
        ],
      },
    },
    {
      name: 'review-is-framework-free',
      severity: 'error',
      comment:
        'lib/review is a browser engine: the domain and libraries for media, strokes, storage and uploads.',
      from: { path: '^lib/review/' },
      to: {
        path: '.',
        pathNot: [
          '^lib/(domain|review)/',
          installed([
            ...['mediabunny', 'perfect-freehand', 'zod', 'idb', 'uploadthing', '@uploadthing/[^/]+'],
            '@mediapipe/tasks-vision',
          ]),
        ],
      },
    },
    {
      name: 'review-takes-only-the-client-of-uploads',
      severity: 'error',
      comment: 'The server half of the upload library does not belong on a phone.',
      from: { path: '^lib/review/' },
      to: { path: 'node_modules/uploadthing/', pathNot: '(client|types|internal)' },
    },
    {
      name: 'pure-never-reaches-a-framework',
      severity: 'error',
      comment: 'Not even through a third file.',
      from: { path: '^lib/(domain|review)/' },
      to: { path: FRAMEWORKS, reachable: true },
    },
    {
      name: 'prisma-only-in-data',
      severity: 'error',
      comment: 'A query and its authorisation are one file, and it lies in lib/data.',
      from: { path: '^(app|pages|lib)/', pathNot: '^lib/data/' },
      to: { path: [installed(['@prisma/[^/]+']), '^lib/data/(client|generated)'] },
    },
    {
      name: 'app-reads-only-dot-read',
      severity: 'error',
      comment:
        'Pages read through lib/data/*.read and count their limits; every change goes through lib/workflows.',
      from: { path: '^(app|pages)/' },
      to: { path: '^lib/data/', pathNot: ['[.]read[.]ts$', '^lib/data/rate-limit[.]ts$'], ...onlyTypes },
    },
    {
      name: 'app-starts-no-worker',
      severity: 'error',
      comment: 'The worker is a process of its own.',
      from: { path: '^(app|pages|lib)/', pathNot: '^lib/worker/' },
      to: { path: '^lib/worker/' },
    },
    {
      name: 'data-knows-only-domain',
      severity: 'error',
      comment: 'lib/data serves the workflows and knows none of them.',
      from: { path: '^lib/data/' },
      to: { path: '^(app|pages|lib/(workflows|review|documents|auth|platform|worker))/' },
    },
    {
      name: 'platform-and-documents-know-only-domain',
      severity: 'error',
      comment: 'Adapters know the port they fill (types of lib/workflows/ports) and the domain.',
      from: { path: '^lib/(platform|documents)/' },
      to: {
        path: '^(app|pages|lib/(workflows|review|auth|data|worker))/',
        pathNot: '^lib/workflows/ports[.]ts$',
      },
    },
    {
      name: 'ports-cross-as-types',
      severity: 'error',
      comment: 'lib/workflows/ports is a list of types.',
      from: { path: '^lib/(platform|documents|auth)/' },
      to: { path: '^lib/workflows/', ...onlyTypes },
    },
    {
      name: 'workflows-take-ports',
      severity: 'error',
      comment:
        'A workflow is handed what it uses of the outer world; it knows no adapter, no session and no page.',
      from: { path: '^lib/workflows/' },
      to: { path: '^(app|pages|lib/(platform|auth|review|worker))/', ...onlyTypes },
    },
    {
      name: 'auth-below-workflows',
      severity: 'error',
      comment: 'lib/auth finds out who is asking, nothing else.',
      from: { path: '^lib/auth/' },
      to: { path: '^(app|pages|lib/(review|documents|worker))/' },
    },
    {
      name: 'lib-never-imports-app',
      severity: 'error',
      comment: 'A page uses the library, never the other way round.',
      from: { path: '^lib/' },
      to: { path: '^(app|pages)/' },
    },
    {
      name: 'browser-files-stay-in-the-browser',
      severity: 'error',
      comment: 'These files are sent to phones. Types may cross, code may not.',
      from: { path: BROWSER_FILES },
      to: { path: [SERVER, '^app/_server/'], ...onlyTypes },
    },
    {
      name: 'no-tests-in-the-product',
      severity: 'error',
      comment: 'What the product needs does not lie with its tests.',
      from: { path: '^(app|pages|lib|prisma)/' },
      to: { path: '^tests/' },
    },
    {
      name: 'no-unresolvable',
      severity: 'error',
      comment: 'There is no such file or package.',
      from: {},
      to: { couldNotResolve: true },
    },
    {
      name: 'no-undeclared-package',
      severity: 'error',
      comment: 'What is imported is named in package.json.',
      from: { path: '^(app|pages|lib)/' },
      to: { dependencyTypes: ['npm-no-pkg', 'npm-unknown'] },
    },
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    doNotFollow: { path: ['node_modules', '^lib/data/generated'] },
    exclude: { path: '^[.]next' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
    },
  },
};
