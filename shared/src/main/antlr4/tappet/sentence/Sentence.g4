/** The sentences of owners and dispatchers: what is true, and what is to be done. */
grammar Sentence;

options {
  caseInsensitive = true;
}

conditionAlone : anyOf EOF ;

commandAlone : command EOF ;

// 'and' binds tighter than 'or'.
anyOf : allOf (OR allOf)* ;

allOf : part (AND part)* ;

part
  : NOT part             # opposite
  | OPEN anyOf CLOSE     # group
  | fact                 # single
  ;

fact
  : SECTION name IS NOT? (occupancy=(CLEAR | OCCUPIED | UNKNOWN) | guard)  # sectionIs
  | SWITCH name IS NOT? (position=(NORMAL | REVERSE) | BLOCKED)            # switchIs
  | SIGNAL name IS NOT? (BLOCKED | aspect=name)                            # signalIs
  | ROUTE name IS NOT? LOCKED                                              # routeIsLocked
  | TRAFFIC name IS NOT? heading=(EAST | WEST)                   # trafficIs
  | DISTRICT name IS NOT? TRIPPED                                  # districtIsTripped
  | OPENING name IS NOT? state=(CLOSED | GAPING | LOCKED | UNLOCKED)  # openingIs
  | GRADE CROSSING name IS NOT? WARNING                            # crossingIsWarning
  | TIME IS NOT? BETWEEN from=TIME_OF_DAY AND to=TIME_OF_DAY               # timeIsBetween
  ;

guard : UNDER PERMIT | BLOCKED | FLAGGED ;

command
  : LINE asked                                # line
  | FLEET from=name TO to=name                # fleet
  | UNFLEET name                              # unfleet
  | CALL ON from=name TO to=name              # callOn
  | STACK from=name TO to=name                # stack
  | UNSTACK name                              # unstack
  | SET TRAFFIC name heading=(EAST | WEST)    # setTraffic
  | CANCEL name                               # cancel
  | THROW name position=(NORMAL | REVERSE) (FOR holder=name)?    # throw
  | LOCK name                                 # lock
  | UNLOCK name                               # unlock
  | RELEASE toe=name (TO holder=name)?            # release
  | SECURE name                               # secure
  | RUN name heading=(EAST | WEST)?           # run
  | HALT name                                 # halt
  | START CLOCK                               # startClock
  | STOP CLOCK                                # stopClock
  | SET CLOCK setting                         # setClock
  | GRANT PERMIT TO holder=name ON limits reason?    # grantPermit
  | RETURN PERMIT OF holder=name                     # returnPermit
  | BLOCK device place=name FOR holder=name reason?  # block
  | UNBLOCK device place=name                        # unblock
  | FLAG place=name BY holder=name reason?           # flag
  | UNFLAG place=name BY holder=name                 # unflag
  | CONFIRM PROTECTIONS                              # confirmProtections
  ;

device : SIGNAL | SWITCH | SECTION ;

limits : name (COMMA name)* ;

reason : BECAUSE name ;

asked
  : from=name TO to=name   # betweenSignals
  | ROUTE name             # byRoute
  ;

setting
  : TO TIME_OF_DAY           # clockTime
  | RATE TO (WORD | NUMBER)  # clockRate
  ;

// A word of the language may be a name too, unless it holds a sentence together.
name
  : WORD | QUOTED
  | SECTION | SWITCH | SIGNAL | ROUTE
  | CLEAR | OCCUPIED | UNKNOWN | NORMAL | REVERSE | LOCKED
  | LINE | CANCEL | THROW | RUN | HALT | EAST | WEST
  | TIME | BETWEEN
  | START | STOP | SET | CLOCK | RATE
  | FLEET | UNFLEET | CALL | ON | STACK | UNSTACK | TRAFFIC
  | DISTRICT | TRIPPED | OPENING | CLOSED | GAPING | LOCK | UNLOCK | UNLOCKED
  | GRADE | CROSSING | WARNING
  | RELEASE | SECURE
  | GRANT | PERMIT | RETURN | BLOCK | UNBLOCK | BLOCKED | FLAG | UNFLAG | FLAGGED
  | CONFIRM | PROTECTIONS
  ;

AND : 'and' ;
OR : 'or' ;
NOT : 'not' ;
IS : 'is' ;
TO : 'to' ;
SECTION : 'section' ;
SWITCH : 'switch' ;
SIGNAL : 'signal' ;
ROUTE : 'route' ;
CLEAR : 'clear' ;
OCCUPIED : 'occupied' ;
UNKNOWN : 'unknown' ;
NORMAL : 'normal' ;
REVERSE : 'reverse' ;
LOCKED : 'locked' ;
LINE : 'line' ;
FLEET : 'fleet' ;
UNFLEET : 'unfleet' ;
CALL : 'call' ;
ON : 'on' ;
STACK : 'stack' ;
UNSTACK : 'unstack' ;
TRAFFIC : 'traffic' ;
CANCEL : 'cancel' ;
THROW : 'throw' ;
RUN : 'run' ;
HALT : 'halt' ;
EAST : 'east' ;
WEST : 'west' ;
TIME : 'time' ;
BETWEEN : 'between' ;
START : 'start' ;
STOP : 'stop' ;
SET : 'set' ;
CLOCK : 'clock' ;
RATE : 'rate' ;
DISTRICT : 'district' ;
TRIPPED : 'tripped' ;
OPENING : 'opening' ;
CLOSED : 'closed' ;
GAPING : 'open' ;
LOCK : 'lock' ;
UNLOCK : 'unlock' ;
UNLOCKED : 'unlocked' ;
GRADE : 'grade' ;
CROSSING : 'crossing' ;
WARNING : 'warning' ;
RELEASE : 'release' ;
SECURE : 'secure' ;
GRANT : 'grant' ;
PERMIT : 'permit' ;
RETURN : 'return' ;
OF : 'of' ;
BLOCK : 'block' ;
UNBLOCK : 'unblock' ;
BLOCKED : 'blocked' ;
FOR : 'for' ;
FLAG : 'flag' ;
UNFLAG : 'unflag' ;
FLAGGED : 'flagged' ;
BY : 'by' ;
UNDER : 'under' ;
BECAUSE : 'because' ;
CONFIRM : 'confirm' ;
PROTECTIONS : 'protections' ;
COMMA : ',' ;
OPEN : '(' ;
CLOSE : ')' ;

TIME_OF_DAY : ([01]? [0-9] | '2' [0-3]) ':' [0-5] [0-9] ;
WORD : [a-z0-9]+ ('-' [a-z0-9]+)* ;
NUMBER : '-'? [0-9]+ ('.' [0-9]+)? ':1'? ;
QUOTED : '\'' ~[']+ '\'' | '"' ~["]+ '"' ;
SPACE : [ \t\r\n]+ -> skip ;

// The rest keeps the lexer from ever failing: the parser sees it and says what it is.
UNCLOSED : '\'' ~[']+ | '"' ~["]+ ;
ODD : '\'\'' | '"' '"' | '\'' | '"' | ~[ \t\r\n(),'"]+ ;
