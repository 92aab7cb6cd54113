import { beforeEach, inject } from 'vitest'

beforeEach(({ skip }) => {
  const reason = inject('noDatabase')
  if (reason !== undefined) skip(reason)
})
