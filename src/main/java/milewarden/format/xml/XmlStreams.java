package milewarden.format.xml;

import com.fasterxml.aalto.stax.InputFactoryImpl;
import java.io.InputStream;
import java.io.Reader;
import javax.xml.stream.XMLInputFactory;
import javax.xml.stream.XMLStreamException;
import org.codehaus.stax2.XMLStreamReader2;

/**
 * The one place that makes XML parsers: no document types, no entities but the five of XML, no
 * access to anything outside of the bytes given.
 */
final class XmlStreams {
  private XmlStreams() {}

  static XMLStreamReader2 open(InputStream bytes) throws XMLStreamException {
    return (XMLStreamReader2) factory().createXMLStreamReader(bytes);
  }

  static XMLStreamReader2 open(Reader text) throws XMLStreamException {
    return (XMLStreamReader2) factory().createXMLStreamReader(text);
  }

  private static InputFactoryImpl factory() {
    // A factory of its own for every file: the names of a hostile one must not pile up in another.
    InputFactoryImpl factory = new InputFactoryImpl();
    factory.setProperty(XMLInputFactory.SUPPORT_DTD, false);
    factory.setProperty(XMLInputFactory.IS_SUPPORTING_EXTERNAL_ENTITIES, false);
    factory.setProperty(XMLInputFactory.IS_COALESCING, false);
    factory.setXMLResolver(
        (publicId, systemId, base, namespace) -> {
          throw new XMLStreamException("external entities are not read");
        });
    return factory;
  }
}
