/** `ladlework ...`: what the words mean. Each command loads its own rooms, so that a sum starts fast. */
import { parseQuantity } from '@ladlework/quantity';
import { Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import { HOUSE, logFile } from './house.ts';
import { EXIT, type ExitCode, type Output } from './output.ts';
import { type CalendarDay, readDay } from './plan/calendar-day.ts';

const STANDARD: Output = {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
};

/**
 * Runs one command line.
 *
 * @param argv what was typed after `ladlework`
 * @param output where it writes; the process's own unless given
 * @returns the exit code: 0 done, 1 failed, 2 wrong input, 3 not feasible
 */
export async function main(argv: readonly string[], output: Output = STANDARD): Promise<ExitCode> {
  let code: ExitCode = EXIT.ok;
  const program = commands(output, (ended) => {
    code = ended;
  });
  try {
    await program.parseAsync(argv, { from: 'user' });
    return code;
  } catch (thrown) {
    if (thrown instanceof CommanderError) return thrown.exitCode === 0 ? EXIT.ok : EXIT.badInput;
    output.err(`ladlework: ${thrown instanceof Error ? thrown.message : String(thrown)}\n`);
    return EXIT.failed;
  }
}

function commands(output: Output, end: (code: ExitCode) => void): Command {
  const program = new Command('ladlework')
    .description('Plans, runs and records a decoction day on the kit there is.')
    .exitOverride()
    .configureOutput({ writeOut: output.out, writeErr: output.err })
    .showHelpAfterError('(ladlework --help lists the commands)')
    .helpCommand(false);

  program
    .command('plan')
    .description('plan the brew day of a brew file')
    .argument('<file>', 'brew file: kit, beer, mash and day as JSON')
    .option('--json', 'the plan as one JSON document', false)
    .option('--draws <n>', 'draws behind every band, 50 to 5000', whole('--draws', 50, 5000), 200)
    .option('--seed <n>', 'the same seed gives the same plan', whole('--seed', 0, 2147483647), 1)
    .option('--ics <out>', 'file for the calendar of the whole day')
    .option(
      '--on <day>',
      'day of the brew for the calendar, 2026-11-26; tomorrow when left out',
      day,
    )
    .option('--paper <out>', 'PDF file for the brew sheet and the ruler charts')
    .option('--letter', 'Letter paper instead of A4', false)
    .addOption(units())
    .action(async (file: string, options) => {
      const { planCommand } = await import('./plan/command.ts');
      end(await planCommand(output, file, options));
    });

  program
    .command('compare')
    .description('the ways to brew a brew file, side by side; or one question about them')
    .argument('<file>', 'brew file: kit, beer, mash and day as JSON')
    .option('--json', 'the answer as one JSON document', false)
    .option('--draws <n>', 'draws behind every band, 50 to 5000', whole('--draws', 50, 5000), 200)
    .option('--seed <n>', 'the same seed gives the same answer', whole('--seed', 0, 2147483647), 1)
    .option('--prices <file>', 'file of prices, and of changes of kit on offer')
    .option('--instead', 'the grist without a pull, of the lots in store', false)
    .addOption(
      new Option('--aim <what>', 'of the grists that match').choices([
        'own-grist',
        'price',
        'fewest-lots',
      ]),
    )
    .addOption(
      new Option('--bags <steps>', 'malt in whole or half bags').choices([
        'scale',
        'half-bags',
        'bags',
      ]),
    )
    .option('--what-if', 'what single changes of the kit would do and when they are paid', false)
    .option('--to-kit <file>', 'the brew on the kit of another file')
    .option('--grist <kg>', 'malt on the other kit', kilograms)
    .option('--tasting <n>', 'sheets of a blind tasting for n tasters', whole('--tasting', 3, 300))
    .option('--right <n>', 'right answers of that tasting', whole('--right', 0, 300))
    .option('--published', 'what is published of decoction and infusion', false)
    .addOption(units())
    .action(async (file: string, options) => {
      const { compareCommand } = await import('./compare/command.ts');
      end(await compareCommand(output, file, options));
    });

  program
    .command('rehearse')
    .description("a brew day on a kit nobody knows, played by the tool's own advice")
    .argument('<file>', 'brew file: kit, beer, mash and day as JSON')
    .option(
      '--seed <n>',
      'which hidden kit, and when the faults come',
      whole('--seed', 0, 2147483647),
      1,
    )
    .option(
      '--faults <list>',
      'late-pot, slipping-tun, wrong-thermometer, pump-dies, weak-burner, helper-gone, spilled-ladles; with commas, or surprise',
      '',
    )
    .option('--draws <n>', 'draws behind the advice, 50 to 1000', whole('--draws', 50, 1000), 200)
    .option('--json', 'what came of it as one JSON document', false)
    .addOption(units())
    .action(async (file: string, options) => {
      const { rehearseCommand } = await import('./rehearse/command.ts');
      end(await rehearseCommand(output, file, options));
    });

  program
    .command('sum')
    .description('one handbook sum, with its equation, range and source')
    .argument('[name]', 'name of the sum; sum --list has them all')
    .argument('[arguments...]', 'key=value, in the unit of the name or with a unit: t=66, t=152f')
    .option('--list', 'every sum with an example', false)
    .option('--json', 'the results as one JSON object', false)
    .action(async (name: string | undefined, typed: string[], options) => {
      const { listSums, runSum } = await import('./sum/run.ts');
      if (options.list || name === undefined) end(listSums(output, options));
      else end(await runSum(output, name, typed, options));
    });

  program
    .command('trace')
    .description('run the mash kinetics for prescribed temperature histories')
    .argument('<file>', 'trace document as JSON')
    .option('--json', 'the same document with every "expected" filled', false)
    .addOption(
      new Option('--parameters <set>', 'parameter set')
        .choices(['plain', 'recommended'])
        .default('plain'),
    )
    .action(async (file: string, options) => {
      const { traceCommand } = await import('./trace-command.ts');
      end(await traceCommand(output, file, options));
    });

  program
    .command('probe')
    .description("a simulated probe: plays a brew file's day and sends what hangs in a vessel")
    .argument('<file>', 'brew file: kit, beer, mash and day as JSON')
    .requiredOption('--probe <id>', 'id of the probe, as the kit page has it')
    .addOption(
      new Option('--token <token>', 'its token, as the kit page shows it')
        .env('LADLEWORK_PROBE_TOKEN')
        .makeOptionMandatory(),
    )
    .option('--to <url>', 'address of the server', 'http://127.0.0.1:8620')
    .option('--mqtt <url>', 'send to this broker instead: mqtt://host:1883')
    .option('--user <name>', 'name at the broker; the id of the probe when left out')
    .option('--topic <topic>', 'topic at the broker; ladlework/probe/ and the id when left out')
    .option('--vessel <id>', 'vessel it hangs in; the mash tun when left out')
    .option('--at <min>', 'minute of the day it begins at', whole('--at', 0, 2880), 0)
    .option('--minutes <n>', 'minutes of the day it plays', whole('--minutes', 0, 2880))
    .option('--speed <n>', 'minutes of the day that go by in one', whole('--speed', 1, 600), 1)
    .option('--every <s>', 'seconds of the day between readings', whole('--every', 1, 600), 5)
    .option(
      '--late <min>',
      'minutes it was cut off: sent first, with their own times',
      whole('--late', 0, 1440),
      0,
    )
    .option(
      '--faults <list>',
      'dies@40,sticks@60,jumps@30,offset=1.5,jitter=0.2,loses=0.1: minutes, K, share',
      '',
    )
    .option(
      '--seed <n>',
      'which hidden kit; 0 for the likely one',
      whole('--seed', 0, 2147483647),
      1,
    )
    .option('--json', 'what was sent as one JSON document', false)
    .action(async (file: string, options) => {
      const { probeCommand } = await import('./probe/command.ts');
      end(await probeCommand(output, file, options, Date.now, toldToEnd()));
    });

  program
    .command('serve')
    .description('serve the page and keep the log, until Ctrl-C')
    .option('--port <n>', 'port; 0 takes any free one', whole('--port', 0, 65535), 8620)
    .option('--host <address>', 'address to listen on; the network pairs its devices', '127.0.0.1')
    .option('--pair-all', 'this machine must be paired too: others use it, or a proxy', false)
    .option('--json', 'the address as one JSON document', false)
    .addOption(dataFolder())
    .action(async (options) => {
      const { serveCommand } = await import('./serve-command.ts');
      end(await serveCommand(output, options, toldToEnd()));
    });

  program
    .command('verify')
    .description('read the whole log and compare it with what was written')
    .option('--json', 'the finding as one JSON document', false)
    .addOption(dataFolder())
    .action(async (options) => {
      const { verifyCommand } = await import('./log/copy-commands.ts');
      end(await verifyCommand(output, logFile(options.data), options.json));
    });

  program
    .command('backup')
    .description('copy the whole log, also while the server runs')
    .argument('<folder>', 'where the copy goes')
    .option('--json', 'the outcome as one JSON document', false)
    .addOption(dataFolder())
    .action(async (folder: string, options) => {
      const { backupCommand } = await import('./log/copy-commands.ts');
      end(await backupCommand(output, logFile(options.data), folder, Date.now(), options.json));
    });

  program
    .command('restore')
    .description('put a copy in the place of the log, where there is none')
    .argument('<copy>', 'a file that backup made')
    .option('--json', 'the outcome as one JSON document', false)
    .addOption(dataFolder())
    .action(async (copy: string, options) => {
      const { restoreCommand } = await import('./log/copy-commands.ts');
      end(await restoreCommand(output, logFile(options.data), copy, options.json));
    });

  program
    .command('export')
    .description('the log as text, one event a line')
    .argument('[file]', 'where to; standard output when left out')
    .addOption(dataFolder())
    .action(async (file: string | undefined, options) => {
      const { exportCommand } = await import('./log/text-commands.ts');
      end(await exportCommand(output, logFile(options.data), file));
    });

  program
    .command('import')
    .description('take exported events into the log')
    .argument('<file>', 'one event a line')
    .option('--json', 'the outcome as one JSON document', false)
    .addOption(dataFolder())
    .action(async (file: string, options) => {
      const { importCommand } = await import('./log/text-commands.ts');
      end(await importCommand(output, logFile(options.data), file, options.json));
    });

  return program;
}

function dataFolder(): Option {
  return new Option('--data <folder>', 'folder of the log')
    .env('LADLEWORK_DATA')
    .default(HOUSE.data, "the house's data folder");
}

/** Resolves on the first signal to end. */
function toldToEnd(): Promise<unknown> {
  return new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, resolve);
  });
}

/** A local date. */
function day(text: string): CalendarDay {
  const read = readDay(text);
  if (read !== undefined) return read;
  throw new InvalidArgumentError(`--on is "${text}"; allowed: a date such as 2026-11-26.`);
}

/** Malt by weight: "250 kg", "550 lb", or a number in kg. */
function kilograms(text: string): number {
  const read = parseQuantity('mass', text, { min: 0.1, max: 10_000, field: '--grist' });
  if (read.ok) return read.value;
  throw new InvalidArgumentError(read.error.message);
}

/** A whole number within limits, refused with all a message owes. */
function whole(name: string, min: number, max: number) {
  return (text: string): number => {
    const value = Number(text);
    if (text.trim() !== '' && Number.isInteger(value) && value >= min && value <= max) return value;
    throw new InvalidArgumentError(
      `${name} is "${text}"; allowed: a whole number, ${min} to ${max}.`,
    );
  };
}

function units(): Option {
  return new Option('--units <pair>', 'units of the page')
    .choices(['us', 'metric'])
    .default('metric');
}
