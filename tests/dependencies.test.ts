import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'

interface Locked {
  readonly version?: string
  readonly resolved?: string
  readonly integrity?: string
  readonly link?: boolean
  readonly inBundle?: boolean
}
interface Sbom {
  readonly bomFormat: string
  readonly components: readonly {
    readonly name: string
    readonly version: string
  }[]
}

const json = <T>(file: string) => JSON.parse(readFileSync(file, 'utf8')) as T
const wanted = json<{ dependencies: Record<string, string>; devDependencies: Record<string, string> }>('package.json')
const lock = json<{ packages: Record<string, Locked> }>('package-lock.json')

it('pins every package to one version, from the registry, with its hash', () => {
  for (const [name, version] of Object.entries({ ...wanted.dependencies, ...wanted.devDependencies })) {
    expect(version, name).toMatch(/^\d+\.\d+\.\d+(-[\w.]+)?$/)
    expect(lock.packages[`node_modules/${name}`]?.version, name).toBe(version)
  }
  for (const [path, { resolved, integrity, link, inBundle }] of Object.entries(lock.packages)) {
    if (path === '' || link || inBundle) continue
    // What comes from the registry says no more than its hash.
    expect(resolved ?? 'the registry', path).toMatch(/^(the registry$|https:\/\/registry\.npmjs\.org\/)/)
    expect(integrity, path).toMatch(/^sha512-/)
  }
})

it('can list all that runs, and what it is developed with, as a bill of materials in CycloneDX', () => {
  const { stdout } = spawnSync('npm', ['sbom', '--package-lock-only', '--sbom-format', 'cyclonedx'], {
    encoding: 'utf8',
    maxBuffer: 1e8,
    shell: process.platform === 'win32',
  })
  const sbom = JSON.parse(stdout) as Sbom
  expect(sbom.bomFormat).toBe('CycloneDX')
  const listed = new Set(sbom.components.map(({ name }) => name))
  for (const name of Object.keys(wanted.dependencies)) expect(listed).toContain(name)
})

it('runs on no package with a known hole that is rated high, as far as the registry tells', ({ skip }) => {
  const { stdout } = spawnSync('npm', ['audit', '--omit=dev', '--json', '--fetch-retries=0', '--fetch-timeout=8000'], {
    encoding: 'utf8',
    timeout: 40_000,
    shell: process.platform === 'win32',
  })
  const found = JSON.parse(stdout || '{}') as {
    metadata?: { vulnerabilities: Record<string, number> }
    message?: string
  }
  // Without a registry, or with a mirror that has no advisories, nothing is known.
  if (!found.metadata) return skip(`npm audit got no answer: ${found.message ?? 'none in time'}`)
  const { high, critical } = found.metadata.vulnerabilities
  expect({ high, critical }).toEqual({ high: 0, critical: 0 })
})
