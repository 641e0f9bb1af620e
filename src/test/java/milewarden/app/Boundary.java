package milewarden.app;

/** Where one stage of the way from a file to a message ends and the next begins. */
enum Boundary {
  /** The bytes and their row are written, and nothing is committed. */
  RECEIVING("store.ReceivedFiles", "receive", false),
  /** The bytes are in the store, the file is still in the inbox. */
  RECEIVED("store.ReceivedFiles", "receive", true),
  /** Parsed, and not one figure computed. */
  READ("accuracy.Measurer", "measure", false),
  /** All figures are in the memory alone. */
  MEASURED("intake.RunKeeping", "keep", false),
  /** Runs and results are written, and nothing is committed. */
  WRITING("store.Marks", "ofRun", false),
  /** The run counts, its model waits for the judge. */
  RUN_WRITTEN("store.Marks", "ofRun", true),
  /** The file is out of the inbox, the store doesn't know. */
  FILE_MOVED("store.ReceivedFiles", "leftInbox", false),
  /** The store knows that the file is out. */
  LEFT("store.ReceivedFiles", "leftInbox", true),
  /** The judgement is in the memory alone. */
  JUDGED("store.Judgements", "put", false),
  /** The judgement holds, nobody was told. */
  JUDGEMENT_WRITTEN("store.Judgements", "put", true),
  /** The message is finished, and nothing is committed. */
  QUEUING("store.DueItems", "told", false),
  /** The message waits for the sender. */
  MAIL_QUEUED("store.DueItems", "told", true),
  /** The server has the message, the store doesn't know. */
  MAIL_SENT("store.Outbox", "sent", false),
  /** The store knows that it went out. */
  MARKED_SENT("store.Outbox", "sent", true);

  private final String type;
  private final String method;
  private final boolean committed;

  Boundary(String type, String method, boolean committed) {
    this.type = type;
    this.method = method;
    this.committed = committed;
  }

  /** The full name of the class at whose method it lies. */
  String type() {
    return "milewarden." + type;
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
