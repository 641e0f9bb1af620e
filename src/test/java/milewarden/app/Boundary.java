package milewarden.app;

import milewarden.accuracy.Measurer;
import milewarden.intake.Measuring;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Marks;
import milewarden.store.told.Sending;

/** Where one stage of the way from a file to a message ends and the next begins. */
enum Boundary {
  /** The bytes and their row are written, and nothing is committed. */
  RECEIVING(ReceivedFiles.class, "receive", false),
  /** The bytes are in the store, the file is still in the inbox. */
  RECEIVED(ReceivedFiles.class, "receive", true),
  /** Parsed, and not one figure computed. */
  READ(Measurer.class, "measure", false),
  /** All figures are in the memory alone. */
  MEASURED(Measuring.class, "keep", false),
  /** Runs and results are written, and nothing is committed. */
  WRITING(Marks.class, "ofRuns", false),
  /** The run counts, its model waits for the judge. */
  RUN_WRITTEN(Marks.class, "ofRuns", true),
  /** The file is out of the inbox, the store doesn't know. */
  FILE_MOVED(ReceivedFiles.class, "leftInbox", false),
  /** The store knows that the file is out. */
  LEFT(ReceivedFiles.class, "leftInbox", true),
  /** The judgement is in the memory alone. */
  JUDGED(Judgements.class, "put", false),
  /** The judgement holds, nobody was told. */
  JUDGEMENT_WRITTEN(Judgements.class, "put", true),
  /** The message is finished, and nothing is committed. */
  QUEUING(DueItems.class, "told", false),
  /** The message waits for the sender. */
  MAIL_QUEUED(DueItems.class, "told", true),
  /** The server has the message, the store doesn't know. */
  MAIL_SENT(Sending.class, "sent", false),
  /** The store knows that it went out. */
  MARKED_SENT(Sending.class, "sent", true);

  private final Class<?> type;
  private final String method;
  private final boolean committed;

  Boundary(Class<?> type, String method, boolean committed) {
    this.type = type;
    this.method = method;
    this.committed = committed;
  }

  /** The full name of the class at whose method it lies. */
  String type() {
    return type.getName();
  }

  String method() {
    return method;
  }

  /** True for the moment after the transaction in which the method was called. */
  boolean committed() {
    return committed;
  }

  /** Only reached where a mail server answers. */
  boolean needsMail() {
    return this == MAIL_SENT || this == MARKED_SENT;
  }
}
