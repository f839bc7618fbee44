/** A statistic that the pages show: what it answers, how it is reckoned, and where that is published. */
export type Method = { name: string; answers: string; formula: string; source: string };

export type MethodGroup = { id: string; title: string; methods: Method[] };
