import { contradictions, type FindingTopic, publishedComparisons } from '@ladlework/planner';
import { inPair } from '../../units/show.ts';

const TOPICS: Readonly<Record<FindingTopic, string>> = {
  attenuation: 'Attenuation',
  colour: 'Colour',
  extract: 'Extract',
  enzymes: 'Enzymes',
  sensory: 'In the glass',
  time: 'Time and fuel',
};

/** What has been published of decoction against infusion, with where it does not agree. */
export function Published() {
  const found = publishedComparisons();
  const split = contradictions();
  const topics = (Object.keys(TOPICS) as FindingTopic[]).filter((t) =>
    found.some((f) => f.topic === t),
  );
  return (
    <section class="block">
      <h2>What others have found</h2>
      <p class="lead">
        Of flavour nothing is promised here: those who have measured and tasted do not agree. A
        blind tasting of your own beer settles it for your house.
      </p>
      {topics.map((topic) => (
        <details key={topic} class="certificate">
          <summary>
            {TOPICS[topic]}{' '}
            <span class="soft">
              {countText(found.filter((f) => f.topic === topic).length)}
              {split.some((s) => s.topic === topic) ? ', they do not agree' : ''}
            </span>
          </summary>
          <ul class="findings">
            {found
              .filter((f) => f.topic === topic)
              .map((f) => (
                <li key={f.id}>
                  {inPair(f.finding)}{' '}
                  <span class="soft">
                    {f.source}
                    {f.kind === 'trade' ? ', a trial of brewers, not refereed' : ''}
                  </span>
                </li>
              ))}
          </ul>
          {split
            .filter((s) => s.topic === topic)
            .map((s) => (
              <p key={s.text} class="note">
                {inPair(s.text)}
              </p>
            ))}
        </details>
      ))}
    </section>
  );
}

const countText = (n: number): string => (n === 1 ? 'one finding' : `${n} findings`);
