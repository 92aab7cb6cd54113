import { fileForContentTypes, FileForRelThumbnail, to3dmodel } from '@jscadui/3mf-export'
import { strToU8, zipSync } from 'fflate'
import type { Mesh } from './coupon-mesh.js'

const MODEL = '3D/3dmodel.model'
/** Significant digits that bring a 32-bit float back unchanged. */
const FLOAT32_DIGITS = 9

const escapeXml = (text: string) => text.replace(/[&<>"]/g, (character) => `&#${character.charCodeAt(0)};`)

/** 3MF package of one named solid, in millimetres. */
export function threeMf({ vertices, triangles }: Mesh, name: string): Uint8Array {
  const title = escapeXml(name)
  const model = to3dmodel({
    meshes: [{ id: '1', name: title, vertices, indices: triangles }],
    items: [{ objectID: '1' }],
    precision: FLOAT32_DIGITS,
    header: { unit: 'millimeter', title, application: 'Stepglass' },
  })
  const relations = new FileForRelThumbnail()
  relations.add3dModel(`/${MODEL}`)
  return zipSync({
    [fileForContentTypes.name]: strToU8(fileForContentTypes.content),
    [relations.name]: strToU8(relations.content),
    [MODEL]: strToU8(model),
  })
}
