package tappet.lcc;

import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * Which alias stands for which other node (S-9.7.2.1 §6.2.2 to §6.2.4). An alias has one node and a
 * node has one alias: what is learned last replaces all that contradicts it. Hearing again what is
 * known makes no garbage. At most 4095 pairs, as many as there are aliases.
 */
public final class AliasMap {

  private static final int FIRST_SIZE = 16;
  private static final int INVALID_LOW = 0x00;
  private static final int INVALID_HIGH = 0xFF;

  private int[] aliases = new int[FIRST_SIZE];
  private long[] nodes = new long[FIRST_SIZE];
  private int size;

  /** Notes a pair; an alias or node id that cannot be one is passed over (S-9.7.0.3 §5.13). */
  public void learn(int alias, long node) {
    if (alias == 0 || !isValid(node)) {
      return;
    }
    int place = placeOf(alias);
    if (place < size && nodes[place] == node) {
      return;
    }
    forget(alias);
    forgetNode(node);
    add(alias, node);
  }

  /** The alias stands for no node any more. */
  public void forget(int alias) {
    remove(placeOf(alias));
  }

  void clear() {
    size = 0;
  }

  /** The node that an alias stands for, as far as that is known. */
  public Optional<NodeId> nodeOf(int alias) {
    int place = placeOf(alias);
    return place < size ? Optional.of(new NodeId(nodes[place])) : Optional.empty();
  }

  /** The alias of a node, as far as that is known. */
  public OptionalInt aliasOf(NodeId node) {
    int place = placeOfNode(node.value());
    return place < size ? OptionalInt.of(aliases[place]) : OptionalInt.empty();
  }

  /** Whether the alias is known to stand for another node than this. */
  boolean contradicts(int alias, long node) {
    int place = placeOf(alias);
    return place < size && nodes[place] != node;
  }

  private static boolean isValid(long node) {
    int first = (int) (node >>> 40);
    return first != INVALID_LOW && first != INVALID_HIGH;
  }

  private void forgetNode(long node) {
    remove(placeOfNode(node));
  }

  private int placeOf(int alias) {
    int place = 0;
    while (place < size && aliases[place] != alias) {
      place++;
    }
    return place;
  }

  private int placeOfNode(long node) {
    int place = 0;
    while (place < size && nodes[place] != node) {
      place++;
    }
    return place;
  }

  private void add(int alias, long node) {
    if (size == aliases.length) {
      aliases = Arrays.copyOf(aliases, 2 * size);
      nodes = Arrays.copyOf(nodes, 2 * size);
    }
    aliases[size] = alias;
    nodes[size] = node;
    size++;
  }

  /** The order of the pairs means nothing, so the last one fills the gap. */
  private void remove(int place) {
    if (place < size) {
      size--;
      aliases[place] = aliases[size];
      nodes[place] = nodes[size];
    }
  }
}
