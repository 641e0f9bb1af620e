package milewarden.cli;

import milewarden.accuracy.Engine;
import picocli.CommandLine.IVersionProvider;

/** The version of the program and of its method. */
final class Version implements IVersionProvider {
  @Override
  public String[] getVersion() {
    String version = Milewarden.class.getPackage().getImplementationVersion();
    return new String[] {
      "milewarden " + (version == null ? "(not packaged)" : version) + ", method " + Engine.VERSION
    };
  }
}
