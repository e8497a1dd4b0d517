package tappet.bridge.node;

import java.util.Optional;
import java.util.function.Supplier;
import tappet.lcc.Bytes;
import tappet.lcc.memory.AddressSpace;
import tappet.lcc.memory.MemorySpace;

/** A read-only space that is not made before a tool asks for it: most daemons never see one. */
final class LateSpace implements AddressSpace {

  private final int number;
  private final Supplier<MemorySpace> maker;
  private MemorySpace made;

  LateSpace(int number, Supplier<MemorySpace> maker) {
    this.number = number;
    this.maker = maker;
  }

  /** Makes it anew when it is read next. */
  void forget() {
    made = null;
  }

  @Override
  public int number() {
    return number;
  }

  @Override
  public long highest() {
    return made().highest();
  }

  @Override
  public boolean writable() {
    return false;
  }

  @Override
  public String description() {
    return made().description();
  }

  @Override
  public Optional<Bytes> read(long address, int count) {
    return made().read(address, count);
  }

  @Override
  public Optional<Integer> write(long address, Bytes content) {
    throw new IllegalStateException("space %X is read only".formatted(number));
  }

  private MemorySpace made() {
    if (made == null) {
      made = maker.get();
    }
    return made;
  }
}
