const dated = (column: string) => ({ column, dates: ["%Y-%m-%d"] });
const metered = (column: string) => ({ column, unit: "h", low: 0 });

/** The pipelines that read a fleet's plain exports, by name; where no fleet is given those of exports of all fleets, each row with its own. */
export function plainPipelines(
  fleet: string | null,
  slots: string[],
): Record<string, { files: string; record: string; title: string; fields: object; slots?: object }> {
  const files = (name: string) => ["exports", ...(fleet === null ? [] : [fleet]), `${name}.csv`].join("/");
  const named = (kind: string) => (fleet === null ? kind : `${fleet}-${kind}`);
  const key = {
    fleet: fleet === null ? { column: "fleet", required: true } : { value: fleet },
    unit: { column: "unit", required: true },
  };
  return {
    [named("cards")]: {
      title: "Job cards",
      record: "rebuild",
      files: files("cards"),
      fields: {
        ...key,
        card: { column: "card", required: true },
        model: { column: "model" },
        site: { column: "site" },
        position: { column: "position" },
        removed_on: { ...dated("removed on"), required: true },
        received_on: dated("received on"),
        built_on: dated("built on"),
        installed_on: dated("installed on"),
        hours_removed: metered("hours removed"),
        hours_installed: metered("hours installed"),
        reason: { column: "reason" },
        failed_slot: { column: "failed slot" },
        lube: { column: "lube" },
        end_play: { column: "end play thou", unit: "thou" },
        fitter: { column: "fitter" },
      },
      slots: Object.fromEntries(
        slots.map((slot) => [
          slot,
          {
            fitted: { column: `${slot} fitted` },
            condition: { column: `${slot} condition` },
            damage_mode: { column: `${slot} damage` },
          },
        ]),
      ),
    },
    [named("units")]: {
      title: "Units in service",
      record: "unit",
      files: files("units"),
      fields: {
        ...key,
        model: { column: "model" },
        site: { column: "site" },
        position: { column: "position" },
        commissioned_on: dated("commissioned on"),
        last_rebuilt_on: dated("last rebuilt on"),
        listed_on: dated("listed on"),
      },
    },
    [named("readings")]: {
      title: "Meter readings",
      record: "reading",
      files: files("readings"),
      fields: {
        ...key,
        read_on: { ...dated("read on"), required: true },
        hours: { ...metered("hours"), required: true },
        meter_changed: { column: "meter changed" },
        old_meter_hours: metered("old meter hours"),
      },
    },
    [named("retirements")]: {
      title: "Units taken out of use",
      record: "retirement",
      files: files("retirements"),
      fields: { ...key, retired_on: { ...dated("retired on"), required: true }, cause: { column: "cause" } },
    },
  };
}
