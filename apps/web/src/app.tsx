import { later } from './later.tsx';
import { BeerPage } from './pages/BeerPage.tsx';
import { BeersPage } from './pages/BeersPage.tsx';
import { BrewsPage } from './pages/BrewsPage.tsx';
import { DayPage } from './pages/DayPage.tsx';
import { DevicesPage } from './pages/DevicesPage.tsx';
import { KitPage } from './pages/KitPage.tsx';
import { KitsPage } from './pages/KitsPage.tsx';
import { NewBrewPage } from './pages/NewBrewPage.tsx';
import { PaperInPage } from './pages/PaperInPage.tsx';
import { PaperPage } from './pages/PaperPage.tsx';
import { PlanPage } from './pages/PlanPage.tsx';
import { RecordPage } from './pages/RecordPage.tsx';
import { TodayPage } from './pages/TodayPage.tsx';
import { route } from './shell/location.ts';
import type { Route } from './shell/route.ts';
import { Shell } from './shell/Shell.tsx';

// Looked at in the evening, not during a day: it comes when it is asked for.
const WaysPage = later(async () => (await import('./pages/ways/WaysPage.tsx')).WaysPage);

export function App() {
  const at = route.value;
  // The running day has the whole screen; its own bar leads back.
  if (at.at === 'day') return <DayPage id={at.id} />;
  return (
    <Shell route={at}>
      <Page route={at} />
    </Shell>
  );
}

function Page({ route: at }: { route: Route }) {
  switch (at.at) {
    case 'today':
      return <TodayPage />;
    case 'beers':
      return <BeersPage />;
    case 'beer':
      return <BeerPage key={at.id} id={at.id} />;
    case 'kits':
      return <KitsPage />;
    case 'kit':
      return <KitPage key={at.id} id={at.id} />;
    case 'brews':
      return <BrewsPage />;
    case 'new-brew':
      return <NewBrewPage />;
    case 'plan':
      return <PlanPage key={at.id} id={at.id} />;
    case 'ways':
      return <WaysPage key={at.id} id={at.id} part={at.part} />;
    case 'record':
      return <RecordPage key={at.id} id={at.id} />;
    case 'paper':
      return <PaperPage key={at.id} id={at.id} />;
    case 'paper-in':
      return <PaperInPage key={at.id} id={at.id} />;
    case 'day':
      return null;
    case 'devices':
      return <DevicesPage />;
    case 'nowhere':
      return (
        <div class="head">
          <div>
            <h1>Nothing stands here</h1>
            <p>
              The address {at.hash} leads nowhere. <a href="#/today">Go to Today</a>
            </p>
          </div>
        </div>
      );
  }
}
