/** The sentences of owners and dispatchers: what is true, what is to be done, what befalls the railroad. */
grammar Sentence;

options {
  caseInsensitive = true;
}

conditionAlone : anyOf EOF ;

commandAlone : command EOF ;

happeningAlone : happening EOF ;

expectationAlone : anyExpected EOF ;

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

// What a scenario expects may speak of what no rule can know: trains, lamps of the fascia, alarms.
anyExpected : allExpected (OR allExpected)* ;

allExpected : expected (AND expected)* ;

expected
  : NOT expected             # oppositeExpected
  | OPEN anyExpected CLOSE   # groupExpected
  | fact                     # factExpected
  | seen                     # seenExpected
  ;

seen
  : TRAIN train=name
      (IS NOT? trainIs | does=(STANDS | RUNS) | WAITS AT signal=name | HAS carCount)   # train
  | LAMP name IS NOT? LIT                            # lampIsLit
  | LOCK OF name IS NOT? state=(RELEASED | SECURED)  # lockIs
  | ALARM name STANDS                                # alarmStands
  ;

trainIs : ON name | WRECKED | FOUL | AT END OF TRACK ;

carCount : (WORD | NUMBER) (CAR | CARS) ;

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
  | PICK UP cars=name WITH train=name heading=(EAST | WEST)?           # pickUp
  | SET OUT count=(WORD | NUMBER) end=(FRONT | REAR)? (CAR | CARS) OF train=name AS cars=name   # setOut
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
  | NAME train=name ON section=name                  # nameTrain
  | DROP NAME train=name                             # dropName
  | ACKNOWLEDGE alarm=name                           # acknowledge
  | ASK FOR sentence=name BY holder=name             # ask
  | WITHDRAW ASK number=name                         # withdraw
  ;

happening
  : SECTION name
      (REPORTS (state=(OCCUPIED | CLEAR) | besides) | FLICKERS | IS way=(SHORTED | MENDED))   # track
  | SWITCH name REPORTS (state=(NORMAL | REVERSE) | besides)      # switchReports
  | LOCK OF name REPORTS (state=(RELEASED | SECURED) | besides)   # lockReports
  | SPOT name REPORTS way=(PASSED | EAST | WEST)                  # spotReports
  | OPENING name (REPORTS (state=(CLOSED | GAPING) | besides) | IS way=(OPENED | CLOSED))   # leaf
  | BOLT OF name (REPORTS (state=(LOCKED | UNLOCKED) | besides) | fitness)                  # bolt
  | BREAKER OF name
      (REPORTS (state=(TRIPPED | RESTORED) | besides) | TRIPS | IS way=RESTORED)   # breaker
  | MOTOR OF name (fitness | TAKES span)                          # motor
  | LAMP lamp=name OF post=name (BURNS OUT | IS REPLACED)         # lamp
  | BOARD name boardDoes                                          # board
  | ALIAS OF name CLASHES                                         # aliasClashes
  | CREW (crewMoves | BREAKS LOCK OF name)                        # crew
  | BUTTON name IS way=(PRESSED | RELEASED)                       # button
  | CABLE IS (PULLED | PLUGGED IN)                                # cable
  | DAEMON IS way=(STOPPED | STARTED)                             # daemon
  | TRAIN name (IS LIFTED | way=(OBEYS | IGNORES) SIGNALS | LOSES ITS BRAKES)   # fateOfTrain
  | EMERGENCY kind=(OFF | STOP) IS way=(CALLED | CLEARED)         # emergency
  ;

crewMoves : (deed=(THROWS | FORCES) | deed=ASKS FOR) name position=(NORMAL | REVERSE) ;

fitness : STICKS | IS MENDED ;

boardDoes
  : fault=(MISSES | LOSES | REPEATS) ITS NEXT EVENT
  | IS LATE BY span
  | FALLS SILENT
  | SPEAKS AGAIN
  | REBOOTS
  | BROWNS OUT
  ;

besides : NOTHING | BOTH | THE TRUTH ;

span : (WORD | NUMBER) WORD ;

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
  | RELEASED | SECURED
  | REPORTS | NOTHING | BOTH | THE | TRUTH | BOLT | STICKS | MENDED
  | BREAKER | TRIPS | RESTORED | SPOT | PASSED | MOTOR | TAKES | LAMP
  | BURNS | OUT | REPLACED | BOARD | MISSES | LOSES | REPEATS | ITS
  | NEXT | EVENT | LATE | FALLS | SILENT | SPEAKS | AGAIN | REBOOTS
  | ALIAS | CLASHES | OPENED | CREW | THROWS | FORCES | ASKS | BREAKS
  | BUTTON | PRESSED | CABLE | PULLED | PLUGGED | IN | TRAIN | LIFTED
  | OBEYS | IGNORES | SIGNALS | EMERGENCY | OFF | CALLED | CLEARED | WAITS
  | AT | STANDS | RUNS | WRECKED | END | TRACK | LIT | ALARM
  | NAME | DROP | ACKNOWLEDGE | ASK | WITHDRAW
  | PICK | UP | FRONT | REAR | CAR | CARS | HAS | FOUL
  | SHORTED | FLICKERS | BROWNS | DAEMON | STOPPED | STARTED | BRAKES
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
REPORTS : 'reports' ;
NOTHING : 'nothing' ;
BOTH : 'both' ;
THE : 'the' ;
TRUTH : 'truth' ;
BOLT : 'bolt' ;
STICKS : 'sticks' ;
MENDED : 'mended' ;
BREAKER : 'breaker' ;
TRIPS : 'trips' ;
RESTORED : 'restored' ;
SPOT : 'spot' ;
PASSED : 'passed' ;
MOTOR : 'motor' ;
TAKES : 'takes' ;
LAMP : 'lamp' ;
BURNS : 'burns' ;
OUT : 'out' ;
REPLACED : 'replaced' ;
BOARD : 'board' ;
MISSES : 'misses' ;
LOSES : 'loses' ;
REPEATS : 'repeats' ;
ITS : 'its' ;
NEXT : 'next' ;
EVENT : 'event' ;
LATE : 'late' ;
FALLS : 'falls' ;
SILENT : 'silent' ;
SPEAKS : 'speaks' ;
AGAIN : 'again' ;
REBOOTS : 'reboots' ;
ALIAS : 'alias' ;
CLASHES : 'clashes' ;
OPENED : 'opened' ;
CREW : 'crew' ;
THROWS : 'throws' ;
FORCES : 'forces' ;
ASKS : 'asks' ;
BREAKS : 'breaks' ;
BUTTON : 'button' ;
PRESSED : 'pressed' ;
CABLE : 'cable' ;
PULLED : 'pulled' ;
PLUGGED : 'plugged' ;
IN : 'in' ;
TRAIN : 'train' ;
LIFTED : 'lifted' ;
OBEYS : 'obeys' ;
IGNORES : 'ignores' ;
SIGNALS : 'signals' ;
EMERGENCY : 'emergency' ;
OFF : 'off' ;
CALLED : 'called' ;
CLEARED : 'cleared' ;
WAITS : 'waits' ;
AT : 'at' ;
STANDS : 'stands' ;
RUNS : 'runs' ;
WRECKED : 'wrecked' ;
END : 'end' ;
TRACK : 'track' ;
LIT : 'lit' ;
ALARM : 'alarm' ;
NAME : 'name' ;
DROP : 'drop' ;
ACKNOWLEDGE : 'acknowledge' ;
ASK : 'ask' ;
WITHDRAW : 'withdraw' ;
PICK : 'pick' ;
UP : 'up' ;
WITH : 'with' ;
FRONT : 'front' ;
REAR : 'rear' ;
CAR : 'car' ;
CARS : 'cars' ;
AS : 'as' ;
HAS : 'has' ;
FOUL : 'foul' ;
SHORTED : 'shorted' ;
FLICKERS : 'flickers' ;
BROWNS : 'browns' ;
DAEMON : 'daemon' ;
STOPPED : 'stopped' ;
STARTED : 'started' ;
BRAKES : 'brakes' ;
RELEASED : 'released' ;
SECURED : 'secured' ;
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
