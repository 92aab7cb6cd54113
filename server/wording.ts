/** What went wrong and what to do about it, as one text. */
export const reasonText = ({ message, advice }: { readonly message: string; readonly advice: string }): string =>
  `${message} ${advice}`

/** `1 photograph`, `2 photographs`. */
export const counted = (n: number, one: string): string => `${n} ${n === 1 ? one : `${one}s`}`
