#!/usr/bin/env node
import { ready } from '../setup/ready.mjs'

ready()
await import('../../dist/server/cli.js')
