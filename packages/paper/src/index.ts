/** The brew sheet and the ruler charts, drawn for paper. */
export {};
