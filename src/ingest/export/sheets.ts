export async function chosenSheets(_a: string, _b: string, _c: (string | number)[]): Promise<string[]> {
  return [];
}
