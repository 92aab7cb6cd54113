/** What is used of a package that comes without types. */
declare module '@jscadui/3mf-export' {
  interface Part {
    id: string
    name: string
    vertices: Float32Array
    indices: Uint32Array
  }
  interface Header {
    unit: 'millimeter'
    title: string
    application: string
    creationDate?: Date
  }
  /** The model part's XML. Texts go in as they are: escape them. */
  export function to3dmodel(model: {
    meshes: readonly Part[]
    items: readonly { objectID: string }[]
    precision: number
    header: Header
  }): string
  export const fileForContentTypes: { name: string; content: string }
  export class FileForRelThumbnail {
    name: string
    content: string
    add3dModel(path: string): void
  }
}
