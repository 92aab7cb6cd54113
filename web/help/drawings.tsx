import type { ComponentChildren } from 'preact'
import type { HelpTopic } from './help-codes.js'

// Our own drawings. `solid` is resin, `inked` is ink, `paper` the card, `wrong` what not to do, `light` light.

const Coupon = ({ x, y, turned = false }: { x: number; y: number; turned?: boolean }) => (
  <g transform={`translate(${x} ${y})${turned ? ' rotate(180 30 9)' : ''}`}>
    <path class="solid" d="M0 0h60v18H0z" />
    <path class="inked" d="M6 4v10M9 4v10M12 4v10M15 4v10M20 4v10M25 4v10" />
    <path class="line" d="M36 4h14v10H36z" />
    <path class="key" d="M54 0h6v6z" />
  </g>
)

const Card = () => (
  <>
    <path class="paper" d="M40 20h160v110H40z" />
    {[50, 120, 190].flatMap((x) =>
      [30, 75, 120].map((y) => <circle key={`${x} ${y}`} class="disc" cx={x} cy={y} r="4" />),
    )}
  </>
)

const Cross = ({ x, y }: { x: number; y: number }) => <path class="wrong" d={`M${x} ${y}l16 16m0-16l-16 16`} />
const Tick = ({ x, y }: { x: number; y: number }) => <path class="right" d={`M${x} ${y + 8}l6 7 11-15`} />
const Phone = ({ x, y }: { x: number; y: number }) => (
  <>
    <path class="line" d={`M${x} ${y}h56v9H${x}z`} />
    <circle class="disc" cx={x + 28} cy={y + 9} r="3" />
  </>
)

const drawings: Record<HelpTopic, ComponentChildren> = {
  ink: (
    <>
      <path class="solid" d="M20 60h30v20h14V60h14v20h14V60h14v20h14V60h60v60H20z" />
      <path class="inked fill" d="M50 72h14v8H50zM78 72h14v8H78zM106 72h14v8h-14z" />
      <path class="line" d="M14 52h70m-12-6 12 6-12 6" />
      <path class="paper" d="M96 34h44v18H96z" />
      <Tick x={190} y={40} />
    </>
  ),
  lay: (
    <>
      <Card />
      <path class="thick" d="M148 46v22" />
      <Coupon x={84} y={48} />
      <Tick x={208} y={48} />
      <Coupon x={84} y={92} turned />
      <Cross x={208} y={92} />
    </>
  ),
  light: (
    <>
      <path class="paper" d="M60 120h130v6H60z" />
      <Coupon x={95} y={101} />
      <path class="light" d="M20 40l16-10 12 18-16 10zM50 56l40 36M44 64l44 40" />
      <Tick x={14} y={70} />
      <path class="light" d="M116 24h20v10h-20zM126 40v46" />
      <Cross x={148} y={28} />
    </>
  ),
  camera: (
    <>
      <path class="paper" d="M40 128h160v5H40z" />
      <Phone x={92} y={16} />
      <path class="dash" d="M120 28 44 126M120 28l76 98" />
      <path class="line" d="M214 28v98m-5-90 5-8 5 8m-10 82 5 8 5-8" />
      <text x="206" y="52" text-anchor="end">
        40 cm
      </text>
    </>
  ),
  sharp: (
    <>
      <path class="inked fill" d="M30 40h40v60H30z" />
      <Tick x={42} y={110} />
      <path class="inked fill" opacity="0.3" d="M118 40h52v60h-52z" />
      <path class="inked fill" opacity="0.4" d="M124 40h40v60h-40z" />
      <Cross x={136} y={110} />
    </>
  ),
  card: (
    <>
      <path class="paper" d="M20 30h80v60H20z" />
      <circle class="disc" cx="30" cy="40" r="4" />
      <circle class="disc" cx="90" cy="40" r="4" />
      <circle class="disc" cx="30" cy="80" r="4" />
      <circle class="disc" cx="90" cy="80" r="4" />
      <path class="dash" d="M46 48h28v24H46z" />
      <Tick x={52} y={100} />
      <path class="paper" d="M140 84q40-44 80 0v10q-40-44-80 0z" />
      <Cross x={172} y={100} />
    </>
  ),
  ladder: (
    <>
      <path class="line" d="M30 20v100h190" />
      <path class="dash" d="M30 72h190" />
      {[50, 85, 120, 155, 190].map((x, i) => (
        <circle key={x} class="disc" cx={x} cy={104 - 15 * i} r="5" />
      ))}
      <path class="thick" d="M124 62v20" />
    </>
  ),
  features: (
    <>
      <path class="solid" d="M20 30h70v80H20z" />
      <path class="void" d="M40 40h6v60h-6zM58 40h10v60H58z" />
      <Tick x={46} y={116} />
      <path class="solid" d="M140 30h70v80h-70z" />
      <path class="void" d="M180 40h5v60h-5z" />
      <Cross x={166} y={116} />
    </>
  ),
  window: (
    <>
      <path class="solid" d="M30 40h80v60H30z" />
      <path class="bars" d="M50 52v36M58 52v36M66 52v36M74 52v36M82 52v36M90 52v36" />
      <Tick x={62} y={108} />
      <path class="solid" d="M140 40h80v60h-80z" />
      <path class="bars" d="M160 52v36M168 52v36M176 52v36M184 52v36" />
      <circle class="inked fill" cx="192" cy="72" r="12" />
      <Cross x={172} y={108} />
    </>
  ),
  caliper: (
    <>
      <path class="solid" d="M70 60h100v16H70zM70 76h16v30H70zM154 76h16v30h-16z" />
      <path class="line" d="M30 90h34v-8m0 16v-8M126 90H92v-8m0 16v-8" />
      <text x="52" y="132">
        4 mm
      </text>
    </>
  ),
  compare: (
    <>
      <path class="line" d="M40 20v100h180" />
      <path class="thick" d="M90 50v40M160 66v38" />
      <circle class="disc" cx="90" cy="70" r="6" />
      <circle class="disc" cx="160" cy="86" r="6" />
    </>
  ),
  finish: (
    <>
      <path class="paper" d="M60 60h140v64H60z" />
      <path class="dash" d="M60 76h140" />
      <path class="solid" d="M105 88h50v24h-50z" />
      <path class="light" d="M110 16h40v10h-40zM120 34l-6 16M130 34v18M140 34l6 16" />
      <Tick x={214} y={84} />
    </>
  ),
  numbers: (
    <>
      <path class="line" d="M50 30h140v90H50zM50 60h140M50 90h140M110 30v90" />
      <text x="62" y="50">
        s
      </text>
      <text x="122" y="50">
        µm
      </text>
    </>
  ),
  file: (
    <>
      <path class="paper" d="M80 20h60l20 20v90H80z" />
      <path class="line" d="M92 110l20-30 14 18 10-12 12 24z" />
      <circle class="disc" cx="104" cy="62" r="6" />
      <Tick x={176} y={64} />
    </>
  ),
  keeping: (
    <>
      <path class="paper" d="M70 40q40-20 80 0v70q-40 20-80 0z" />
      <path class="line" d="M70 40q40 20 80 0M70 64q40 20 80 0M70 88q40 20 80 0" />
      <path class="line" d="M110 6v20m-6-8 6 8 6-8" />
      <Cross x={170} y={66} />
    </>
  ),
  waiting: (
    <>
      {[24, 82, 140].map((x) => (
        <g key={x} transform={`translate(${x} 44)`}>
          <path class="paper" d="M0 0h46v54H0z" />
          <path class="line" d="M8 44l10-18 8 10 6-8 8 16z" />
        </g>
      ))}
      <path class="line" d="M196 71h36m-10-7 10 7-10 7" />
    </>
  ),
}

/** The drawing of a topic, told in words by what stands beside it. */
export const Drawing = ({ topic }: { topic: HelpTopic }) => (
  <svg class="drawing" viewBox="0 0 260 140" aria-hidden="true">
    {drawings[topic]}
  </svg>
)
