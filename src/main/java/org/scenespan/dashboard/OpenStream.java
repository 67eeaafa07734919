package org.scenespan.dashboard;

import jakarta.servlet.ServletOutputStream;
import jakarta.servlet.WriteListener;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.concurrent.CompletableFuture;
import java.util.function.LongFunction;

/**
 * One page's event stream. It holds no thread: whoever has something new pumps it, and where the
 * client does not take more, the server pumps it again when it does.
 */
final class OpenStream implements WriteListener {
  private final Feed feed;
  private final ServletOutputStream out;
  private final CompletableFuture<Void> ended = new CompletableFuture<>();

  /** The newest record written. All below is guarded by this. */
  private long last;

  /** False while the server is to say when more can be written. */
  private boolean ready;

  private boolean unflushed;

  /** What was written may not be all that there is. */
  private boolean more;

  private boolean begun;
  private boolean pulseDue;
  private boolean done;

  OpenStream(Feed feed, ServletOutputStream out, long since) {
    this.feed = feed;
    this.out = out;
    this.last = since;
  }

  CompletableFuture<Void> ended() {
    return ended;
  }

  synchronized void owePulse() {
    pulseDue = true;
  }

  /** Writes the first piece of what is new, as far as the client takes it without waiting. */
  void pump(LongFunction<Feed.Batch> batches) {
    try {
      pumpUntilFull(batches);
    } catch (IOException | UncheckedIOException | IllegalStateException gone) {
      // The page was closed, or the journal cannot be read: the page asks again by itself.
      end();
    }
  }

  private synchronized void pumpUntilFull(LongFunction<Feed.Batch> batches) throws IOException {
    while (ready && !done) {
      if (!out.isReady()) {
        ready = false;
      } else if (unflushed) {
        out.flush();
        unflushed = false;
        if (more) {
          more = false;
          feed.goOnSoon();
          return;
        }
      } else {
        byte[] next = next(batches);
        if (next.length == 0) {
          return;
        }
        out.write(next);
        unflushed = true;
      }
    }
  }

  private byte[] next(LongFunction<Feed.Batch> batches) {
    Feed.Batch batch = batches.apply(last);
    more = batch.last() > last;
    last = batch.last();
    // The first write begins with a pulse, which names the stream; later ones fill silences.
    if (!begun || batch.events().length == 0 && pulseDue) {
      begun = true;
      pulseDue = false;
      byte[] pulse = feed.pulseAt(last).getBytes(StandardCharsets.UTF_8);
      return joined(pulse, batch.events());
    }
    return batch.events();
  }

  private static byte[] joined(byte[] one, byte[] two) {
    byte[] both = Arrays.copyOf(one, one.length + two.length);
    System.arraycopy(two, 0, both, one.length, two.length);
    return both;
  }

  @Override
  public void onWritePossible() {
    synchronized (this) {
      ready = true;
    }
    pump(feed::after);
  }

  @Override
  public void onError(Throwable gone) {
    end();
  }

  /** Ends the stream, once; nothing is written any more. */
  void end() {
    synchronized (this) {
      if (done) {
        return;
      }
      done = true;
    }
    feed.leave(this);
    ended.complete(null);
  }
}
