// Runs before the first paint so that a dark brewhouse is not lit up by a white flash.
(() => {
  try {
    const kept = localStorage.getItem('ladlework.theme');
    const dark = kept ? kept === 'dark' : matchMedia('(prefers-color-scheme: dark)').matches;
    document.documentElement.dataset.theme = dark ? 'dark' : 'light';
  } catch {
    // Storage may be closed to the page; the light theme needs none.
    document.documentElement.dataset.theme = 'light';
  }
})();
