import js from '@eslint/js'
import { defineConfig } from 'eslint/config'
import ts from 'typescript-eslint'

const impure = (what) => `analysis/ is pure: ${what}`

export default defineConfig(
  { ignores: ['dist', '.cache', 'coverage', 'data'] },
  js.configs.recommended,
  ts.configs.recommendedTypeChecked,
  {
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    linterOptions: { reportUnusedDisableDirectives: 'error' },
    rules: {
      eqeqeq: 'error',
      // The compiler finds these already (noUnusedLocals, noUnusedParameters).
      '@typescript-eslint/no-unused-vars': 'off',
      '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
      // A Fastify plugin is async whether or not it waits for anything.
      '@typescript-eslint/require-await': 'off',
      // Error messages quote whatever came; objects without a text of their own are still caught by no-base-to-string.
      '@typescript-eslint/restrict-template-expressions': 'off',
    },
  },
  {
    files: ['analysis/**'],
    rules: {
      'no-restricted-globals': ['error', { name: 'fetch', message: impure('no network') }],
      'no-restricted-properties': [
        'error',
        { object: 'process', property: 'env', message: impure('no settings') },
        { object: 'process', property: 'cwd', message: impure('no paths') },
        { object: 'Date', property: 'now', message: impure('no clock') },
        { object: 'Math', property: 'random', message: impure('draw from a seeded generator') },
      ],
      'no-restricted-syntax': [
        'error',
        { selector: "NewExpression[callee.name='Date'][arguments.length=0]", message: impure('no clock') },
      ],
      'no-restricted-imports': [
        'error',
        {
          patterns: [
            {
              regex: '^(node:)?(http2?|https|net|tls|dgram|dns|child_process)$',
              message: impure('no network, no processes'),
            },
          ],
        },
      ],
    },
  },
  {
    files: ['**/*.{js,mjs,cjs}'],
    extends: [ts.configs.disableTypeChecked],
    languageOptions: { globals: { process: 'readonly', console: 'readonly', URL: 'readonly', module: 'writable' } },
  },
)
