// The arrows: web -> server/api (types only), server -> analysis/index.ts, analysis -> npm packages. tests/architecture.test.ts runs it.
const forbid = (name, comment, from, to) => ({ name, comment, severity: 'error', from, to })

module.exports = {
  forbidden: [
    forbid('no-circular', 'two files that need each other are one', {}, { circular: true }),
    forbid('no-unresolvable', 'every import leads somewhere', {}, { couldNotResolve: true }),
    forbid(
      'analysis-stands-alone',
      'analysis/ knows nothing of what uses it',
      { path: '^analysis/' },
      { path: '^(server|web|tests|samples)/' },
    ),
    forbid(
      'analysis-has-one-door',
      'server/ imports analysis/ through its index only',
      { path: '^server/' },
      { path: '^analysis/', pathNot: '^analysis/index\\.ts$' },
    ),
    forbid(
      'server-below-web',
      'server/ serves web/ without importing it',
      { path: '^server/' },
      { path: '^(web|tests|samples)/' },
    ),
    forbid(
      'web-knows-the-api-only',
      'web/ imports nothing of the server but server/api/',
      { path: '^web/' },
      { path: '^(analysis|server|tests|samples)/', pathNot: '^server/api/' },
    ),
    forbid(
      'web-imports-types-only',
      'a schema imported as a value would travel to the browser',
      { path: '^web/' },
      { path: '^server/api/', dependencyTypesNot: ['type-only'] },
    ),
    forbid(
      'measure-starts-fast',
      'the library of schemas is 600 files, half a second of a cold start; analysis/ brings its own share in one file',
      {
        path: '^server/(cli|usage-error|commands/(measure|files|option-values|planning-commands)|report/reading-report)\\.ts$',
      },
      { path: '^node_modules/typebox/', dependencyTypesNot: ['type-only'] },
    ),
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^dist/' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
    },
  },
}
