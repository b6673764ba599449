module shedwall

go 1.26
