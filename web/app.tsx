import { useEffect, useRef } from 'preact/hooks'
import { CameraIcon, CompareIcon, LadderIcon, Logo, PlanIcon } from './icons.js'
import { later } from './later.js'
import { compareAddress, planAddress, printAddress, startAddress, useRoute, type Route } from './route.js'
import { texts } from './texts.js'
import { PrintView } from './views/print-view.js'
import { ReadingView } from './views/reading-view.js'
import { StartView } from './views/start-view.js'

const PlanView = later(async () => (await import('./plan/plan-view.js')).PlanView)
const CompareView = later(async () => (await import('./compare/compare-view.js')).CompareView)

function View({ route }: { route: Route }) {
  switch (route.view) {
    case 'start':
      return <StartView />
    case 'reading':
      return <ReadingView key={route.id} readingId={route.id} />
    case 'compare':
      return <CompareView />
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
  const main = useRef<HTMLElement>(null)
  const shown = useRef(route)
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
          <NavLink here={route.view === 'start'} href={startAddress}>
            <CameraIcon />
            {texts.nav.photograph}
          </NavLink>
          <NavLink here={route.view === 'print'} href={printAddress()}>
            <LadderIcon />
            {texts.nav.print}
          </NavLink>
          <NavLink here={route.view === 'plan'} href={planAddress()}>
            <PlanIcon />
            {texts.nav.plan}
          </NavLink>
          <NavLink here={route.view === 'compare'} href={compareAddress}>
            <CompareIcon />
            {texts.nav.compare}
          </NavLink>
        </nav>
      </header>
      <main id="content" ref={main} tabIndex={-1}>
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
