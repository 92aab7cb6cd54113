import { useEffect, useRef } from 'preact/hooks'
import { keptTimers } from './finish/kept-timers.js'
import { useKeptFocus } from './keep-focus.js'
import { CameraIcon, CompareIcon, FinishIcon, LadderIcon, Logo, MoreIcon, PlanIcon } from './icons.js'
import { later } from './later.js'
import { OutboxPanel } from './outbox/outbox-panel.js'
import {
  compareAddress,
  finishAddress,
  laddersAddress,
  moreAddress,
  planAddress,
  startAddress,
  useRoute,
  type Route,
} from './route.js'
import { lifeTexts } from './texts/life.js'
import { texts } from './texts/page.js'
import { StartView } from './views/start-view.js'

const PrintView = later(async () => (await import('./views/print-view.js')).PrintView)
const ReadingView = later(async () => (await import('./views/reading-view.js')).ReadingView)
const LaddersView = later(async () => (await import('./ladders/ladders-view.js')).LaddersView)
const LadderLife = later(async () => (await import('./ladders/ladder-life.js')).LadderLife)
const PairView = later(async () => (await import('./ladders/pair-view.js')).PairView)
const RecordsView = later(async () => (await import('./records/records-view.js')).RecordsView)
const MoreView = later(async () => (await import('./device/more-view.js')).MoreView)
const PhoneView = later(async () => (await import('./device/phone-view.js')).PhoneView)
const DataView = later(async () => (await import('./device/data-view.js')).DataView)
const HandOnView = later(async () => (await import('./hand-on/hand-on-view.js')).HandOnView)
const TakeInView = later(async () => (await import('./hand-on/take-in-view.js')).TakeInView)
const HelpView = later(async () => (await import('./help/help-view.js')).HelpView)
const PlanView = later(async () => (await import('./plan/plan-view.js')).PlanView)
const FinishView = later(async () => (await import('./finish/finish-view.js')).FinishView)
const TimerStrip = later(async () => (await import('./finish/timer-strip.js')).TimerStrip)
const CompareView = later(async () => (await import('./compare/compare-view.js')).CompareView)

function View({ route }: { route: Route }) {
  switch (route.view) {
    case 'start':
      return <StartView />
    case 'reading':
      return <ReadingView key={route.id} readingId={route.id} />
    case 'ladders':
      return <LaddersView />
    case 'ladder':
      return <LadderLife key={route.id} ladderId={route.id} />
    case 'pair':
      return <PairView key={route.id} ladderId={route.id} />
    case 'records':
      return <RecordsView key={route.kind} kind={route.kind} />
    case 'setting':
      return <HandOnView key={route.id} settingId={route.id} />
    case 'take-in':
      return <TakeInView />
    case 'more':
      return <MoreView />
    case 'phone':
      return <PhoneView />
    case 'data':
      return <DataView />
    case 'help':
      return <HelpView key={route.topic} topic={route.topic} />
    case 'compare':
      return <CompareView />
    case 'finish':
      return <FinishView key={route.tool} tool={route.tool} />
    case 'print':
      return <PrintView key={route.wish.toString()} wish={route.wish} />
    case 'plan':
      return <PlanView key={`${route.tool} ${route.wish}`} tool={route.tool} wish={route.wish} />
  }
}

function NavLink({ here, href, children }: { here: boolean; href: string; children: preact.ComponentChildren }) {
  return (
    <a href={href} {...(here ? { 'aria-current': 'page' as const } : {})}>
      {children}
    </a>
  )
}

/** The frame around every page. */
export function App() {
  const route = useRoute()
  const words = lifeTexts.nav
  const main = useRef<HTMLElement>(null)
  const shown = useRef(route)
  useKeptFocus(main)
  useEffect(() => {
    if (shown.current === route) return
    shown.current = route
    // A screen reader or keyboard user lands on the new page's content, as after a real page load.
    main.current?.focus()
    window.scrollTo(0, 0)
  }, [route])
  return (
    <>
      <a class="skip" href="#content" onClick={(event) => (event.preventDefault(), main.current?.focus())}>
        {texts.skip}
      </a>
      <header class="top">
        <a class="brand" href={startAddress}>
          <Logo />
          {texts.name}
        </a>
        <nav aria-label={texts.nav.label}>
          <NavLink here={route.view === 'start' || route.view === 'reading'} href={startAddress}>
            <CameraIcon />
            {words.start}
          </NavLink>
          <NavLink here={['ladders', 'ladder', 'pair', 'print'].includes(route.view)} href={laddersAddress}>
            <LadderIcon />
            {words.ladders}
          </NavLink>
          <NavLink here={route.view === 'plan'} href={planAddress()}>
            <PlanIcon />
            {words.plan}
          </NavLink>
          <NavLink here={route.view === 'finish'} href={finishAddress()}>
            <FinishIcon />
            {words.finish}
          </NavLink>
          <NavLink here={route.view === 'compare'} href={compareAddress}>
            <CompareIcon />
            {words.compare}
          </NavLink>
          <NavLink here={['more', 'records', 'phone', 'data', 'help'].includes(route.view)} href={moreAddress}>
            <MoreIcon />
            {words.more}
          </NavLink>
        </nav>
      </header>
      <main id="content" ref={main} tabIndex={-1}>
        {route.view !== 'finish' && keptTimers().length > 0 && <TimerStrip />}
        <OutboxPanel />
        <View route={route} />
      </main>
      <footer class="foot">
        <p>{texts.footer}</p>
        <p>
          <a href="/docs">{texts.nav.api}</a>
        </p>
      </footer>
    </>
  )
}
