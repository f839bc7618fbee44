import { Dataflow, runtimeContext } from "vega";

/** What Vega asks for when a view is made: each expression of its chart as a function. */
export type Expressions = {
  operator: Made<Coded>;
  parameter: Made<Coded>;
  event: Made<Coded>;
  handler: Made<Coded>;
  encode: Made<Encoded>;
  codegen: {
    get(path: string[]): unknown;
    comparator(fields: unknown[], orders: number[]): unknown;
  };
};

type Made<Expression> = (context: Context | null, expression: Expression) => Compiled;
type Context = { functions?: object };
type Coded = { code: string };
type Encoded = { marktype: string; channels: Record<string, Coded> };
type Compiled = (...given: never[]) => unknown;

declare module "vega" {
  class Dataflow {}
  function runtimeContext(dataflow: Dataflow, transforms: object): { expr: Expressions };
}

const plain = runtimeContext(new Dataflow(), {}).expr;

/**
 * Expressions that are compiled once, however many charts have them: what the engine has made fast for one chart is so for the next. A chart's own
 * are those of its scales and figures, and these reach a function as what it is called with.
 */
export const keptExpressions: Expressions = {
  operator: kept(plain.operator, codeOf),
  parameter: kept(plain.parameter, codeOf),
  event: kept(plain.event, codeOf),
  handler: kept(plain.handler, codeOf),
  encode: kept(plain.encode, ({ marktype, channels }) =>
    JSON.stringify([marktype, Object.entries(channels).map(([name, { code }]) => [name, code])]),
  ),
  codegen: { ...plain.codegen, get: keptBy((path: string[]) => JSON.stringify(path), plain.codegen.get) },
};

function codeOf({ code }: Coded): string {
  return code;
}

function kept<Expression extends object>(make: Made<Expression>, code: (expression: Expression) => string) {
  const known = new WeakMap<Expression, Compiled>();
  const made = keptBy(code, (expression: Expression) => make(null, expression));
  return (context: Context | null, expression: Expression): Compiled => {
    const own = known.get(expression) ?? made(expression);
    known.set(expression, own);
    return context?.functions === undefined ? own : own.bind(context.functions);
  };
}

function keptBy<Given, Result>(keyOf: (given: Given) => string, make: (given: Given) => Result) {
  const known = new Map<string, Result>();
  return (given: Given): Result => {
    const key = keyOf(given);
    const own = known.get(key) ?? make(given);
    known.set(key, own);
    return own;
  };
}
