/** Where a page holds the sheet's data: the id of a script element of type application/json. */
export const DATA_ID = 'stepglass-setting'

/** Name of the file attached to a PDF that holds them. */
export const ATTACHED = 'stepglass-setting.json'
