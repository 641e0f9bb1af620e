package milewarden.web.api;

import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import io.javalin.http.NotFoundResponse;
import io.javalin.http.UploadedFile;
import java.time.ZoneId;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import milewarden.intake.CarriedAlong;
import milewarden.intake.TagForm;
import milewarden.intake.convert.TrackTarget;
import milewarden.intake.doubt.Answered;
import milewarden.store.Database;
import milewarden.store.Id.FileId;
import milewarden.store.Tx;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.run.Runs;
import milewarden.track.TagName;
import milewarden.web.api.Rows.FileRow;

/** Recordings: sent in, followed, and their original bytes given back. */
final class Tracks {
  private static final int ACCEPTED = 202;

  private final Database database;
  private final TrackDrop drop;
  private final TagForm form;
  private final ZoneId zone;

  Tracks(Database database, TrackDrop drop, TagForm form, ZoneId zone) {
    this.database = database;
    this.drop = drop;
    this.form = form;
    this.zone = zone;
  }

  /** One file and its tags as fields of a form: 202, and where to follow it. */
  void take(Context http) {
    List<UploadedFile> files = http.isMultipartFormData() ? http.uploadedFiles() : List.of();
    if (files.size() != 1)
      throw new BadRequestResponse(
          "Send one recording as a file of a multipart form; " + files.size() + " came.");
    UploadedFile file = files.get(0);
    FileId id = drop.take(nameOf(file), file::content, tags(http));
    http.status(ACCEPTED).header("Location", "/api/v1/tracks/received/" + id.value());
    Answers.json(http, database.<FileRow>read(tx -> row(tx, received(tx, id))));
  }

  /** Tags of a file that came in, as the tester's edit; it is measured again. */
  void tag(Context http) {
    FileId id = new FileId(Ids.of(http, "id"));
    Map<TagName, String> said = SentTags.of(http.body());
    database
        .read(tx -> received(tx, id))
        .duplicateOf()
        .ifPresent(
            first -> {
              throw new BadRequestResponse(
                  "These bytes came before, as number " + first.value() + ": send the tags there.");
            });
    List<TagForm.Problem> problems = form.apply(List.of(id), said);
    if (!problems.isEmpty())
      throw new BadRequestResponse(
          String.join(" ", problems.stream().map(TagForm.Problem::sentence).toList()));
    Answers.json(http, database.<FileRow>read(tx -> row(tx, received(tx, id))));
  }

  private static Map<TagName, String> tags(Context http) {
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    Set<String> files = http.uploadedFileMap().keySet();
    http.formParamMap()
        .forEach(
            (field, values) -> {
              // The server's library lists the files among the fields.
              if (files.contains(field)) return;
              TagName name =
                  TagName.of(field)
                      .orElseThrow(
                          () -> new BadRequestResponse("There is no tag named " + field + "."));
              if (values.size() != 1)
                throw new BadRequestResponse("The tag " + field + " stands more than once.");
              if (!values.get(0).isBlank()) tags.put(name, values.get(0).strip());
            });
    return tags;
  }

  /** The last part of the name: a sender's folders are no tags here. */
  private static String nameOf(UploadedFile file) {
    String name = file.filename().replace('\\', '/');
    String last = name.substring(name.lastIndexOf('/') + 1);
    return last.isBlank() ? "track" : last;
  }

  void received(Context http) {
    FileId id = new FileId(Ids.of(http, "id"));
    Answers.json(http, database.<FileRow>read(tx -> row(tx, received(tx, id))));
  }

  void allReceived(Context http) {
    Slice slice = Slice.of(http);
    // The store pages by id: the cursor counts items, so the pages before are skipped here.
    Listing<FileRow> page =
        database.read(
            tx ->
                Listing.of(
                        ReceivedFiles.page(
                            tx,
                            Optional.empty(),
                            Optional.empty(),
                            slice.offset() + slice.limit() + 1),
                        slice)
                    .map(f -> row(tx, f)));
    Answers.json(http, page);
  }

  private static ReceivedFiles.Received received(Tx tx, FileId id) {
    return ReceivedFiles.find(tx, id)
        .orElseThrow(
            () -> new NotFoundResponse("No file was received as number " + id.value() + "."));
  }

  private static FileRow row(Tx tx, ReceivedFiles.Received file) {
    return FileRow.of(file, Runs.findOfFile(tx, file.id()));
  }

  /** The bytes as they came. */
  void original(Context http) {
    String hash = kept(http);
    as(http, name(http), "application/octet-stream");
    http.result(Contents.open(database, hash).orElseThrow());
  }

  /** The recording in another format. */
  void converted(Context http, TrackTarget target) {
    String hash = kept(http);
    TrackTarget.Writing writing =
        target
            .of(() -> Contents.open(database, hash).orElseThrow(), answers(http))
            .orElseThrow(
                () ->
                    new NotFoundResponse(
                        "No file in another format: these bytes can't be read as a recording."
                            + " The original is kept."));
    as(http, name(http) + "." + target.ending(), target.mediaType());
    writing.to(http.outputStream());
  }

  /** What was answered of the first file with these bytes: its run's times are those. */
  private Answered answers(Context http) {
    return database.read(
        tx ->
            ReceivedFiles.withHash(tx, hash(http))
                .map(f -> CarriedAlong.answers(tx, f.id(), zone))
                .orElseGet(() -> new Answered(name -> Optional.empty(), zone)));
  }

  private static String hash(Context http) {
    return http.pathParam("sha256").toLowerCase(Locale.ROOT);
  }

  /** The hash of bytes that are kept. */
  private String kept(Context http) {
    String hash = hash(http);
    if (!database.<Boolean>read(tx -> Contents.isKept(tx, hash)))
      throw new NotFoundResponse("No file has the SHA-256 " + hash + ".");
    return hash;
  }

  private String name(Context http) {
    return database
        .read(tx -> ReceivedFiles.withHash(tx, hash(http)))
        .map(f -> f.path().substring(f.path().lastIndexOf('/') + 1))
        .orElse("track");
  }

  private static void as(Context http, String name, String mediaType) {
    // Whatever it holds, a browser saves it and never shows it as a page of ours.
    http.header(
        "Content-Disposition",
        "attachment; filename=\"" + name.replaceAll("[^A-Za-z0-9._-]", "_") + "\"");
    http.contentType(mediaType);
  }
}
