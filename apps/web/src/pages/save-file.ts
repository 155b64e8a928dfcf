/**
 * Hands the brewer a file.
 *
 * @param name of the file
 * @param content what is in it
 * @param type media type
 */
export function saveFile(
  name: string,
  content: string | Uint8Array<ArrayBuffer>,
  type: string,
): void {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The click has taken the file by then; the address would otherwise hold it in memory.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
