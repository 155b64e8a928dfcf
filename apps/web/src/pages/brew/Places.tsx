import type { Kit } from '@ladlework/brewhouse';
import type { Mash } from '@ladlework/planner';
import { Pick } from '../../form/fields.tsx';

/** Which vessel holds what, and how it travels. */
export function Places({
  mash,
  kit,
  onMash,
}: {
  mash: Mash;
  kit: Kit;
  onMash: (mash: Mash) => void;
}) {
  const vessels = kit.vessels.map((v) => ({ value: v.id, text: v.name }));
  const routes = kit.routes.map((r) => ({ value: r.id, text: r.name }));
  return (
    <div class="fields">
      <Pick
        label={mash.layout === 'carry' ? 'Mash in' : 'Mash in and boil in'}
        value={mash.tun}
        options={vessels}
        onValue={(tun) => onMash({ ...mash, tun })}
      />
      {mash.layout === 'kettle-mash' && (
        <Pick
          label="Park the rest in"
          value={mash.park ?? ''}
          options={vessels.filter((v) => v.value !== mash.tun)}
          onValue={(park) => onMash({ ...mash, park })}
        />
      )}
      <Pick
        label="Liquor is heated in"
        value={mash.liquorVessel}
        options={vessels}
        onValue={(liquorVessel) => onMash({ ...mash, liquorVessel })}
      />
      {routes.length > 0 && (
        <>
          <Pick
            label="Pull and return by"
            value={mash.pullRoute ?? routes[0]?.value ?? ''}
            options={routes}
            onValue={(pullRoute) => onMash({ ...mash, pullRoute })}
          />
          <Pick
            label="Strike liquor by"
            value={mash.strikeRoute ?? routes[0]?.value ?? ''}
            options={routes}
            onValue={(strikeRoute) => onMash({ ...mash, strikeRoute })}
          />
        </>
      )}
    </div>
  );
}
