import { InvalidArgumentError, Option } from 'commander'

// What options of the command line take, each from its text. What does not fit throws commander's own error.

/** For commands that answer in words. */
export const wholeAnswer = () => new Option('--json', 'print the whole answer')

/** A number in any form JavaScript reads. */
export function number(text: string): number {
  const value = Number(text)
  if (text.trim() === '' || !Number.isFinite(value)) throw new InvalidArgumentError('It must be a number.')
  return value
}

export function positive(text: string): number {
  const value = number(text)
  if (value <= 0) throw new InvalidArgumentError('It must be above zero.')
  return value
}

/** 0 or more. */
export function whole(text: string): number {
  const value = number(text)
  if (!Number.isInteger(value) || value < 0) throw new InvalidArgumentError('It must be a whole number.')
  return value
}

/** Caliper readings such as `1=4.02,2=4.05`. */
export function tabs(text: string): { slot: number; widthMm: number }[] {
  return text.split(',').map((part) => {
    const [slot = '', width = ''] = part.split('=')
    return { slot: whole(slot), widthMm: positive(width) }
  })
}

/** What the rungs of a ladder differ in; the names are those of `FACTORS`, told apart again by the design's schema. */
export const factorOption = (description: string) =>
  new Option('--factor <what>', description).choices([
    ...['post-cure-time', 'post-cure-stages', 'grit', 'coat', 'stand-time', 'resin-temperature', 'age'],
  ])

/** Names in capitals, as the card's code takes them. */
export const levels = (text: string): string[] => text.split(',').map((level) => level.trim().toUpperCase())

export const slots = (text: string): number[] => text.split(',').map(whole)
export const numbers = (text: string): number[] => text.split(',').map(positive)

/** The ends of an interval, the lower first. */
export const pair = (text: string): readonly [number, number] => {
  const [low, high, ...rest] = numbers(text)
  if (low === undefined || high === undefined || rest.length > 0 || low > high) {
    throw new InvalidArgumentError('It must be two numbers that go up, such as 2.4,3.1.')
  }
  return [low, high]
}
