package tappet.bridge.proof;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.StringWriter;
import tappet.proof.Finding;
import tappet.proof.Verdict;
import tappet.proof.track.LooseEnd;
import tappet.source.Place;

/** What a proof has found, for other programs: one JSON object. */
public final class ProofJson {

  private ProofJson() {}

  /**
   * The object: {@code verdict}, {@code properties} (each with {@code kind}, {@code source}, {@code
   * words}, {@code verdict}, {@code says}, and its {@code story} with the {@code rows} it is about
   * where it is disproven), {@code look at} and {@code assumptions}.
   */
  public static String of(ProofReport report) throws IOException {
    StringWriter text = new StringWriter();
    try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
      json.useDefaultPrettyPrinter();
      json.writeStartObject();
      json.writeStringField("verdict", report.answer().word());
      json.writeArrayFieldStart("properties");
      for (Finding finding : report.findings()) {
        write(finding, report, json);
      }
      json.writeEndArray();
      json.writeArrayFieldStart("look at");
      for (LooseEnd open : report.looseEnds()) {
        json.writeString(open.text());
      }
      json.writeEndArray();
      json.writeArrayFieldStart("assumptions");
      for (String assumption : report.assumptions()) {
        json.writeString(assumption);
      }
      json.writeEndArray();
      json.writeEndObject();
    }
    return text + "\n";
  }

  private static void write(Finding finding, ProofReport report, JsonGenerator json)
      throws IOException {
    json.writeStartObject();
    json.writeStringField("kind", finding.property().kind().words());
    json.writeStringField("source", finding.property().kind().source());
    json.writeStringField("words", finding.property().words());
    json.writeStringField("verdict", finding.verdict().word());
    json.writeBooleanField("says", finding.said());
    if (finding.verdict() instanceof Verdict.Disproven) {
      write(report.accounts().get(finding.property()), json);
    }
    json.writeEndObject();
  }

  private static void write(Account account, JsonGenerator json) throws IOException {
    json.writeStringField("beginning", account.beginning().words());
    json.writeArrayFieldStart("story");
    for (Deed deed : account.deeds()) {
      json.writeString(deed.words());
    }
    json.writeEndArray();
    json.writeArrayFieldStart("rows");
    for (Place row : account.rows()) {
      json.writeString(row.toString());
    }
    json.writeEndArray();
    json.writeStringField("played", account.played());
  }
}
