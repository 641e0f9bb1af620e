package milewarden.track;

/** Where a tag came from; the earlier constant wins over the later. */
public enum TagSource {
  EDIT,
  SHEET,
  SIDECAR,
  FOLDER,
  FILE,
  RECOGNISED,
  DEFAULT
}
