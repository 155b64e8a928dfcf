import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import './style/tokens.css';
import './style/base.css';
import './style/shell.css';
import './style/forms.css';
import './style/score.css';
import './style/plan.css';
import './style/day.css';
import './style/day-aids.css';
import './style/wort.css';
import './style/wrong.css';
import './style/devices.css';
import './style/paper.css';
import './style/print.css';
import { render } from 'preact';
import { App } from './app.tsx';
import { openHouse } from './data/house.ts';
import { startSync } from './data/sync.ts';
import { keepShell } from './shell/offline.ts';

const root = document.getElementById('page');
if (root === null) throw new Error('the page has no place to stand in');
render(<App />, root);

void openHouse().then(startSync);
keepShell();
