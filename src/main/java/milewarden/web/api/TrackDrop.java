package milewarden.web.api;

import java.util.Map;
import milewarden.intake.drop.Bytes;
import milewarden.store.Id.FileId;
import milewarden.track.TagName;

/** Takes a recording in as the inbox would: the bytes are in the store when it returns. */
@FunctionalInterface
public interface TrackDrop {
  /**
   * @return the received file, which tells how far it has come
   */
  FileId take(String fileName, Bytes bytes, Map<TagName, String> tags);
}
