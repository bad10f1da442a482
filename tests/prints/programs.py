"""Writes programs as many authors would, from a seed: languages, habits of layout, comments of all kinds. Knows the
language of the chips and nothing of how prints are recovered."""
import random

WORDS = {
    'en': 'the lamp of our boat is switched on by a key at night and stays lit until somebody holds it again for more than two seconds then the motor runs down the counter waits at zero before next turn with care because old relays stick when cold please read page four first'.split(),
    'de': 'die Lampe am Boot wird durch eine Taste bei Nacht geschaltet und bleibt an bis jemand sie wieder länger als zwei Sekunden hält danach läuft der Motor aus da alte Relais bei Kälte kleben bitte zuerst Seite vier lesen der Zähler wartet auf Null vor der nächsten Runde'.split(),
    'es': 'la lámpara de la barca se enciende con una tecla por la noche y queda encendida hasta que alguien la pulsa de nuevo más de dos segundos entonces el motor para da igual si hace frío lea primero la página cuatro el contador espera a cero antes de la vuelta'.split(),
    'it': 'la lampada della barca si accende da un tasto di notte e resta accesa finché qualcuno non lo preme di nuovo per più di due secondi poi il motore si ferma da solo perché i vecchi relè si incollano al freddo leggere prima la pagina quattro'.split(),
    'fr': 'la lampe du bateau est allumée par une touche la nuit et reste allumée jusque à ce que on la tienne encore plus de deux secondes puis le moteur de la pompe tourne au ralenti car les vieux relais de bord collent au froid lire page quatre'.split(),
    'pl': 'lampa na łodzi jest włączana klawiszem w nocy i świeci aż ktoś znów go przytrzyma dłużej niż dwie sekundy potem silnik staje bo stare przekaźniki da się zablokować zimą proszę najpierw przeczytać stronę cztery'.split(),
    'pt': 'a luz do barco acende com uma tecla de noite e fica acesa até alguém a segurar de novo por mais de dois segundos depois o motor da bomba para da mesma forma leia primeiro a página quatro'.split(),
}
# Sentences end in words that are operations, too.
TAILS = ['then return', 'and call it', 'or clear', 'before the end', 'no option', 'go to sleep', 'if set', 'nothing to do: nop', 'page 3', 'at 0x20', 'see table', '- or not', 'the data', 'goto next', 'swap', '5 V, 20 mA']
NAMES = ['lamp', 'key', 'motor', 'ticks', 'turns', 'speed', 'level', 'shadow', 'hold', 'gate', 'bell', 'pump', 'valve', 'steps', 'flag1', 'tmp', 'save_w', 'save_st', 'digit', 'row']
PLACES = ['start', 'main', 'loop', 'idle', 'blink', 'wait1', 'poll', 'up', 'down', 'show', 'again', 'fast', 'slow', 'beep', 'step_10', 'step_20', 'step_30', 'off', 'on_', 'exit1', 'lp', 'ready', 'turn', 'half', 'sum_up']
CHIPS = {'16f84a': (0x0C, '_CP_OFF & _WDT_OFF & _PWRTE_ON & _XT_OSC'), '16f628a': (0x20, '_CP_OFF & _WDT_OFF & _PWRTE_ON & _INTOSC_OSC_NOCLKOUT & _LVP_OFF & _MCLRE_ON & _BODEN_ON'),
         '16f877a': (0x20, '_CP_OFF & _WDT_OFF & _PWRTE_ON & _HS_OSC & _LVP_OFF & _BODEN_ON'), '12f675': (0x20, '_CP_OFF & _WDT_OFF & _PWRTE_ON & _INTRC_OSC_NOCLKOUT & _MCLRE_OFF & _BODEN_OFF')}


class Author:
    """One author's habits."""

    def __init__(self, seed):
        r = self.r = random.Random(seed)
        self.words = WORDS[r.choice(list(WORDS))]
        self.upper = r.random() < .4
        self.op_column = r.choice([8, 8, 8, 10, 12, 16, 4])
        self.operand_column = self.op_column + r.choice([6, 8, 8])
        self.comment_column = r.choice([28, 32, 32, 36, 40])
        self.colon = r.random() < .2
        self.own_line = r.random() < .35
        self.hexes = r.choice(["0x{:02X}", "0{:02X}h", "h'{:02x}'", "0x{:02x}", ".{:d}", "d'{:d}'"])
        self.talk = r.choice([.1, .3, .5, .8])
        self.longest = r.choice([6, 10, 16, 22])
        self.chip = r.choice(list(CHIPS))
        self.lines = []
        self.files = {}

    def sentence(self, most=None):
        r = self.r
        n = r.randint(1, most or self.longest)
        start = r.randrange(len(self.words))
        text = ' '.join(self.words[(start + i) % len(self.words)] for i in range(n))
        if r.random() < .25: text += ' ' + r.choice(TAILS)
        return text + r.choice(['', '', '.', '!', ',', ' ...'])

    def case(self, word): return word.upper() if self.upper else word

    def number(self, n): return self.hexes.format(n)

    def put(self, label='', op='', operands='', talk=None):
        r = self.r
        line = label + (':' if label and self.colon and op.lower() not in ('equ', 'macro', 'set') else '')
        if label and self.own_line and op and op.lower() not in ('equ', 'macro', 'set', 'code'):
            self.lines.append(line)
            line = ''
        if op:
            line = line.ljust(self.op_column) if len(line) < self.op_column else line + ' '
            line += self.case(op)
            if operands: line = (line.ljust(self.operand_column) if len(line) < self.operand_column else line + ' ') + operands
        if r.random() < (self.talk if talk is None else talk):
            line = (line.ljust(self.comment_column) if len(line) < self.comment_column else line + ' ') + '; ' + self.sentence()
        self.lines.append(line.rstrip())

    def remark(self, n=None):
        for _ in range(n or self.r.randint(1, 4)): self.lines.append('; ' + self.sentence(self.longest * 2))

    def ruler(self): self.lines.append(';' + self.r.choice('*-=') * self.r.choice([40, 60, 70, 78]))

    def drawing(self):
        self.lines += [';          +----\\/----+', ';  lamp <--|1        18|--> bell', ';   key -->|2        17|--- 5 V', ';          +----------+']

    def header(self):
        r = self.r
        self.ruler()
        self.remark()
        if r.random() < .3: self.drawing()
        if r.random() < .3: self.lines += ['; THIS TEXT MAY BE COPIED BY ANYONE, WITHOUT ANY WARRANTY; IT IS NOT TO BE SOLD,', '; AND THE AUTHOR IS NOT LIABLE FOR WHAT IT DOES ON THE ROAD OR AT HOME.']
        self.ruler()
        base, config = CHIPS[self.chip]
        include = ('include', f'<p{self.chip}.inc>') if r.random() < .6 else ('#include', f'"p{self.chip}.inc"')
        first = [('list', f'p={self.chip}' + r.choice(['', ', r=dec', ',r=hex', '']))]
        if self.hexes[0] == '.' or self.hexes[0] in '0hd': pass
        self.put('', *first[0], talk=.2)
        self.lines.append(' ' * self.op_column + ' '.join(include))
        self.lines.append(' ' * self.op_column + '__config'.upper() * 0 + '__config ' + config.replace(' & ', r.choice([' & ', '&', ' & '])))
        self.lines.append('')
        self.base = base

    def definitions(self):
        r = self.r
        names = r.sample(NAMES, r.randint(5, 12))
        self.vars, self.bits = names, []
        if r.random() < .5:
            self.lines.append(' ' * self.op_column + self.case('cblock') + ' ' + self.number(self.base))
            for n in names: self.lines.append(' ' * self.op_column + n + (('  ; ' + self.sentence()) if r.random() < self.talk else ''))
            self.lines.append(' ' * self.op_column + self.case('endc'))
        else:
            for i, n in enumerate(names): self.put(n, 'equ', self.number(self.base + i))
        port = 'GPIO' if self.chip.startswith('12') else 'PORTB'
        for i, n in enumerate(r.sample(['red', 'green', 'relay', 'buzz', 'spare'], 3)):
            self.lines.append(f'#define {n} {port},{i}' + (('   ; ' + self.sentence()) if r.random() < self.talk else ''))
            self.bits.append(n)
        self.port = port
        self.lines.append('')
        # Values that stand in a file of their own, which lies beside the print.
        self.limits = []
        if r.random() < .25:
            self.limits = r.sample(['most', 'least', 'rate', 'pause_', 'shades'], 3)
            self.files['club.inc'] = ['; values of the club'] + [f'{n:<8} equ {r.randrange(2, 250)}' for n in self.limits]
            self.put('', 'include', '"club.inc"', talk=.3)
        if r.random() < .4:
            self.put('delay_n', 'macro', 'n_times', talk=.3)
            self.put('', 'movlw', 'n_times')
            self.put('', 'movwf', names[0])
            self.put('', 'decfsz', names[0] + ',f')
            self.put('', 'goto', '$-1')
            self.put('', 'endm')
            self.macro = True
        else: self.macro = False

    def work(self, labels):
        """A few instructions."""
        r = self.r
        v = r.choice(self.vars)
        kind = r.randrange(12)
        if kind == 0: self.put('', 'movlw', r.choice(self.limits) if self.limits and r.random() < .5 else self.number(r.randrange(256))); self.put('', 'movwf', v)
        elif kind == 1: self.put('', 'bsf', r.choice(self.bits))
        elif kind == 2: self.put('', 'bcf', r.choice(self.bits))
        elif kind == 3: self.put('', 'movf', v + ',' + self.case('w')); self.put('', r.choice(['addlw', 'andlw', 'xorlw', 'iorlw', 'sublw']), self.number(r.randrange(256)))
        elif kind == 4: self.put('', 'incf', v + ',' + self.case('f'))
        elif kind == 5: self.put('', r.choice(['clrw', 'nop', 'clrwdt', 'nop']))
        elif kind == 6: self.put('', 'call', r.choice(labels))
        elif kind == 7: self.put('', 'btfss', f'{self.port},{r.randrange(6)}'); self.put('', 'goto', r.choice(labels))
        elif kind == 8: self.put('', 'swapf', v + ', ' + self.case('w'))
        elif kind == 9: self.put('', 'movf', v + ',w'); self.put('', 'btfsc', 'STATUS,Z'); self.put('', 'return')
        elif kind == 10: self.put('', 'clrf', v)
        else:
            if self.macro: self.put('', 'delay_n', self.number(r.randint(2, 99)))
            else: self.put('', 'rlf', v + ',f')

    def program(self):
        r = self.r
        self.header()
        self.definitions()
        labels = r.sample(PLACES, r.randint(5, 14))
        self.put('', 'org', self.number(0) if self.hexes[0] != '.' else '0')
        self.put('', 'goto', labels[0])
        self.lines.append('')
        self.remark(1)
        self.put('', 'org', '0x10')
        for i, label in enumerate(labels):
            if r.random() < .5: self.remark()
            if r.random() < .15: self.ruler()
            self.put(label, r.choice(['nop', 'clrwdt', 'clrw'])) if not self.own_line or r.random() < .5 else self.lines.append(label)
            for _ in range(r.randint(1, 9)): self.work(labels)
            if i == 0 or r.random() < .3: self.put('', 'goto', labels[r.randrange(len(labels))])
            else: self.put('', r.choice(['return', 'return', 'retlw']), '')
            if self.lines[-1].split(';')[0].split()[-1:] in (['retlw'], ['RETLW']): self.lines[-1] = self.lines[-1].replace('retlw', 'retlw 0').replace('RETLW', 'RETLW 0')
            if r.random() < .7: self.lines.append('')
        if r.random() < .5:
            self.put('pattern', 'addwf', 'PCL,f')
            for _ in range(r.randint(3, 9)): self.put('', 'retlw', self.number(r.randrange(256)))
        if r.random() < .3: self.put('', 'dt', ','.join(self.number(r.randrange(256)) for _ in range(r.randint(3, 12))))
        if r.random() < .3:
            self.put('', 'org', '0x2100')
            self.put('', 'de', ', '.join(self.number(r.randrange(256)) for _ in range(r.randint(2, 8))))
        if r.random() < .4: self.remark(1)
        self.put('', 'end', '', talk=.15)
        if r.random() < .2: self.lines += ['', '; ' + self.sentence()]
        return self.lines


def write(seed):
    """The lines of a program, and the files that it includes."""
    author = Author(seed)
    return author.program(), author.files
