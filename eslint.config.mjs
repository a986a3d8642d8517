import next from 'eslint-config-next/core-web-vitals';
import playwright from 'eslint-plugin-playwright';
import tseslint from 'typescript-eslint';

const banned = {
  zodByName: {
    selector: "ImportDeclaration[source.value='zod'] > ImportSpecifier[imported.name='z']",
    message: "Write `import * as z from 'zod'`: the named import brings the whole library to the phone.",
  },
  playwrightSleep: {
    selector: "CallExpression[callee.property.name='waitForTimeout']",
    message: 'Wait for what should become true, not for time.',
  },
  sleep: {
    selector:
      "NewExpression[callee.name='Promise'] CallExpression[callee.name='setTimeout'] > Identifier.arguments:first-child",
    message: 'Wait for what should become true (vi.waitFor, expect.poll), not for time.',
  },
  timersSleep: {
    selector: 'ImportDeclaration[source.value=/timers\\u002fpromises$/]',
    message: 'Wait for what should become true (vi.waitFor, expect.poll), not for time.',
  },
  bareExpect: {
    selector: "ExpressionStatement > CallExpression[callee.name='expect']",
    message: 'An expectation without a matcher expects nothing.',
  },
  bareProperty: {
    selector: "ExpressionStatement > MemberExpression[object.callee.name='expect']",
    message: 'The matcher is named but not called.',
  },
};

export default tseslint.config(
  {
    ignores: [
      ...['.next/**', '.data/**', '.stryker-tmp/**', 'coverage/**', 'reports/**', 'playwright-report/**'],
      ...['test-results/**', 'lib/data/generated/**', 'next-env.d.ts', 'public/pose/**'],
    ],
  },
  ...next,
  ...tseslint.configs.strict,
  {
    linterOptions: { reportUnusedDisableDirectives: 'error' },
    rules: {
      'no-restricted-syntax': ['error', banned.zodByName],
      // Rules of a compiler that is not used here. Players, boards and savers are made in effects, because they own
      // things that must be let go, and are handed to the page from there.
      'react-hooks/set-state-in-effect': 'off',
      'react-hooks/immutability': 'off',
      'react-hooks/purity': 'off',
      'react-hooks/refs': 'off',
    },
  },
  {
    files: ['**/*.ts', '**/*.tsx'],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/await-thenable': 'error',
      '@typescript-eslint/no-misused-promises': ['error', { checksVoidReturn: { attributes: false } }],
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true },
      ],
      '@typescript-eslint/consistent-type-imports': ['error', { fixStyle: 'inline-type-imports' }],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      // Pictures of clips are private and signed: an optimiser in between would keep copies.
      '@next/next/no-img-element': 'off',
      // After signing in the whole page is loaded anew, so that nothing of the earlier person stays in memory.
      '@next/next/no-location-assign-relative-destination': 'off',
      eqeqeq: ['error', 'always', { null: 'ignore' }],
    },
  },
  {
    // It stands in for the whole page after a fault: only a full load gets everything back.
    files: ['app/global-error.tsx'],
    rules: { '@next/next/no-html-link-for-pages': 'off' },
  },
  {
    // No compiler reads these.
    files: ['**/*.mjs', '**/*.cjs'],
    languageOptions: {
      globals: Object.fromEntries(
        [
          ...['process', 'console', 'Buffer', 'URL', 'WebAssembly', 'setTimeout', 'setInterval', 'fetch'],
          ...['clearTimeout', 'clearInterval', 'setImmediate', 'globalThis', 'module', 'require'],
        ].map((name) => [name, 'readonly']),
      ),
    },
    rules: { 'no-undef': 'error' },
  },
  {
    // The scripts speak to a terminal; everything else has a log.
    files: ['app/**', 'lib/**', 'pages/**'],
    rules: { 'no-console': 'error' },
  },
  {
    files: ['tests/**'],
    rules: {
      'no-restricted-syntax': ['error', ...Object.values(banned)],
      '@typescript-eslint/no-non-null-assertion': 'off',
    },
  },
  {
    ...playwright.configs['flat/recommended'],
    files: ['tests/e2e/**/*.ts'],
    rules: {
      ...playwright.configs['flat/recommended'].rules,
      'playwright/no-wait-for-timeout': 'error',
      'playwright/expect-expect': [
        'error',
        {
          assertFunctionNames: [
            'wholeJob',
            'check',
            'payerJob',
            'guardianJob',
            'leadJob',
            'packJob',
            'drillClipJob',
            'watchDrillJob',
            'checklistJob',
            'inviteTableJob',
          ],
        },
      ],
      'playwright/no-force-option': 'off', // drawn choices lie over their real radio buttons
      'playwright/consistent-spacing-between-blocks': 'off', // prettier's business
      'react-hooks/rules-of-hooks': 'off', // `use` of a fixture is no hook
    },
  },
);
