; Halt Lane Crossing: two flashing lamps and a bell for a garden railway
; PIC16F84A with a crystal of 4 MHz, so that one instruction takes 1 us
; clock 4 MHz
;
; RB0  train sensor: low while a train stands over it
; RB1  lamp A      RB2  lamp B      RB3  bell
; RA0  night link: low (link fitted) keeps the bell silent

        list    p=16f84a
        #include <p16f84a.inc>
        __CONFIG _CP_OFF & _WDT_OFF & _PWRTE_ON & _XT_OSC

SENSOR  equ     0               ; port B, in
LAMPA   equ     1               ; port B, out
LAMPB   equ     2
BELL    equ     3
NIGHT   equ     0               ; port A, in
SAMPLES equ     8               ; looks at the sensor before it is believed
TENMS   equ     d'13'           ; 13 turns of 770 us are 10 ms

        cblock  0x0c
        count                   ; samples still to take
        hold                    ; half seconds until the lamps go out
        lamps                   ; what port B shows, bell left out
        place                   ; where we are in the bell's pattern
        strokes                 ; this half second's strokes, one a bit
        slices                  ; eighths of it still to come
        tens                    ; the three counters of the pause
        middle
        inner
        endc

        org     0
        goto    start

        org     4
        retfie                  ; no interrupt is switched on

; Bell pattern: the strokes of eight half seconds, one after the other.
; It has to stay in the first 256 words, since PCLATH is left at zero.
pattern movf    place,w
        andlw   7
        addwf   PCL,f
        retlw   b'10001000'     ; ding, ding
        retlw   b'10001000'
        retlw   b'10100000'     ; a quick double stroke
        retlw   b'00000000'
        retlw   88
        retlw   88
        retlw   0A0
        retlw   0

start   clrf    PORTA
        clrf    PORTB           ; all off before the pins become outputs
        bsf     STATUS,RP0
        movlw   1F
        movwf   TRISA           ; port A: five inputs
        movlw   b'00000001'
        movwf   TRISB           ; port B: the sensor in, all others out
        bcf     OPTION_REG,7    ; pull-ups on, for the sensor
        bcf     STATUS,RP0
        clrf    place

; Nothing on the line: lamps and bell are off.
idle    clrf    lamps
        clrf    PORTB
idle1   call    look
        btfss   STATUS,C        ; carry set: there is a train
        goto    idle1
        bsf     lamps,LAMPA

; A train: flash until it has been away for the whole hold time.
train   movlw   0               ; cell 0 of the EEPROM is the hold time
        call    recall
        movwf   hold
half    call    flash
        call    look
        btfsc   STATUS,C
        goto    train           ; still there, the time starts anew
        decfsz  hold,f
        goto    half
        goto    idle

; Looks at the sensor: every sample has to be low. Carry set = train.
look    movlw   SAMPLES
        movwf   count
look1   btfsc   PORTB,SENSOR
        goto    nobody
        movlw   1
        call    pause           ; 10 ms from look to look, so a bouncing reed contact counts once
        decfsz  count,f
        goto    look1
        bsf     STATUS,C
        return
nobody  bcf     STATUS,C
        return

; One half second: the other lamp, and the strokes of the bell.
flash   movf    lamps,w
        xorlw   b'00000110'     ; lamp A goes out, lamp B comes on, or the other way round
        movwf   lamps
        movwf   PORTB
        call    pattern
        movwf   strokes
        incf    place,f
        movlw   8
        movwf   slices
slice   bcf     PORTB,BELL
        rlf     strokes,f       ; the next stroke falls into the carry
        btfss   STATUS,C
        goto    quiet
        btfsc   PORTA,NIGHT     ; link fitted: no bell, the neighbours rest
        bsf     PORTB,BELL
quiet   movlw   6
        call    pause           ; 60 ms
        decfsz  slices,f
        goto    slice
        bcf     PORTB,BELL
        return

; Fetches the cell of the EEPROM whose number is in W.
recall  movwf   EEADR
        bsf     STATUS,RP0
        bsf     EECON1,RD       ; the byte is there in the next cycle
        bcf     STATUS,RP0
        movf    EEDATA,w
        return

; Waits W times 10 ms.
pause   movwf   tens
pause1  movlw   TENMS
        movwf   middle
pause2  clrf    inner
pause3  decfsz  inner,f
        goto    pause3
        decfsz  middle,f
        goto    pause2
        decfsz  tens,f
        goto    pause1
        return

        org     0x2100
        de      10              ; hold time: 16 half seconds (10 hexadecimal)
        de      "HALT LANE", d'1', d'2'
        end
