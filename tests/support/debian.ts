import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync } from 'node:fs'

const found = (command: string) => spawnSync('sh', ['-c', `command -v ${command}`]).status === 0

/**
 * Makes sure a program that is not ours can be run, so that it can judge what we made. Where it is missing and we are
 * root on Debian, its package is installed.
 *
 * @returns undefined, or why it cannot be run: the reason to skip what needs it
 */
export function missingTool(command: string, debianPackage: string): string | undefined {
  if (found(command)) return undefined
  const byHand = `${command} is missing; install Debian's ${debianPackage} or its like`
  if (process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    mkdirSync('.cache', { recursive: true })
    // Test files run side by side, but only one may install at a time. Lists that are old or absent make the first try fail.
    const install = `apt-get install -y -qq --no-install-recommends ${debianPackage}`
    const script = `exec 9> .cache/debian.lock; flock 9; ${install} || { apt-get update -qq && ${install}; }`
    spawnSync('sh', ['-c', script], {
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
      stdio: 'ignore',
    })
    if (found(command)) return undefined
  }
  console.warn(`Skipped: ${byHand}`)
  return byHand
}

/**
 * What a program prints.
 *
 * @throws {Error} with what it complains of, if it fails
 */
export function runTool(
  command: string,
  args: readonly string[],
  options: { input?: Uint8Array; cwd?: string } = {},
): Buffer {
  const { status, stdout, stderr, error } = spawnSync(command, args, { ...options, maxBuffer: 1e9 })
  if (status !== 0) throw error ?? new Error(`${command} ended with ${status}: ${stderr.toString()}`)
  return stdout
}
