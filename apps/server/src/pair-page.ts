/** Shown to a device that is not paired: words and one box, no scripts and no styles. */
export const PAIR_PAGE = `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Pair this device - Ladlework</title>
</head>
<body>
<h1>Pair this device</h1>
<p>{message}</p>
<form action="/pair" method="get">
<p><label>Code <input name="code" autocomplete="off" autocapitalize="off" spellcheck="false" required></label>
<button>Pair</button></p>
</form>
</body>
</html>
`;
