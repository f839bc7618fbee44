/** What an opened frame takes each time, whatever was found: named beside the slots. */
export const WHOLE_FRAME = "frame";
