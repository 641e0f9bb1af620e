package milewarden.store;

/** The number of a row; a type of its own per table, so that no two are mistaken. */
public sealed interface Id {
  long value();

  record BatchId(long value) implements Id {}

  record FileId(long value) implements Id {}

  record SheetRowId(long value) implements Id {}

  record ModelId(long value) implements Id {}

  record UnitId(long value) implements Id {}

  record FirmwareId(long value) implements Id {}

  record SessionId(long value) implements Id {}

  record RunId(long value) implements Id {}

  record MeasurementId(long value) implements Id {}

  record ResultId(long value) implements Id {}

  record ExclusionId(long value) implements Id {}

  record DueId(long value) implements Id {}

  record VerdictId(long value) implements Id {}

  record MessageId(long value) implements Id {}

  record PersonId(long value) implements Id {}

  record TokenId(long value) implements Id {}
}
