/**
 * Memory configuration (S-9.7.4.2): what a node keeps in address spaces, served to tools on the
 * bus. {@link tappet.lcc.memory.MemoryServer} is a datagram service; the owner of the node gives it
 * the spaces and does what tools ask beyond reading and writing.
 *
 * <pre>
 *   datagram ── MemoryServer ──► AddressSpace: CDI, configuration, identity (ACDI)
 *   reply    ◄──────┘    └─────► MemoryOwner: reset, defaults, fresh event ids
 * </pre>
 */
package tappet.lcc.memory;
